/** Whether a vehicle's figure has left the level of its first sessions, since when, and how fast it moves. */

import { lastOf, there } from '../../base/there.ts';
import { firstDrift } from '../../battery/change.ts';
import { linearFit, mean, standardDeviation } from '../../battery/statistics.ts';
import { combine, expand } from '../../battery/uncertainty.ts';
import type { MeasureValue } from '../measures.ts';

/** Sessions that say what is usual. */
const USUAL = 3;
/** In standard uncertainties: half a one does not count, five together are a signal (NIST/SEMATECH e-Handbook, 6.3.2.3, from memory). */
const SLACK = 0.5;
const LIMIT = 5;
const YEAR_MS = 365.25 * 86_400_000;
/** A shorter history says nothing of a year. A slope counts from three of its standard uncertainties on: sessions are few. */
const LEAST_YEARS = 0.25;
const LEAST_SESSIONS = 5;
const CLEAR = 3;

export interface Drift {
  /** Mean of the first three sessions. */
  readonly usual: number;
  readonly last: number;
  /** When the session was that first shows it, ms since the epoch; null where it keeps its level. */
  readonly sinceMs: number | null;
  /** Change a year with its expanded uncertainty (k = 2); null where it is hardly more than that, or the history short. */
  readonly perYear: { readonly value: number; readonly U: number } | null;
}

/** Null below four sessions that have the figure. @param points in order of time */
export function driftOf(points: readonly { readonly atMs: number; readonly reading: MeasureValue }[]): Drift | null {
  const known = points.flatMap(({ atMs, reading: { value, uncertainty } }) =>
    value === null ? [] : [{ atMs, value, u: (uncertainty ?? 0) / expand(1) }],
  );
  if (known.length <= USUAL) return null;
  const first = known.slice(0, USUAL).map(({ value }) => value);
  const usual = mean(first);
  const usualU = combine(standardDeviation(first), Math.max(...known.slice(0, USUAL).map(({ u }) => u)));
  const strays = known.map(({ value, u }) => (value - usual) / (combine(usualU, u) || 1e-12));
  const found = firstDrift(strays.slice(USUAL), { target: 0, slack: SLACK, limit: LIMIT });
  return {
    usual,
    last: lastOf(known).value,
    sinceMs: found ? there(known[USUAL + found.index]).atMs : null,
    perYear: changePerYear(known),
  };
}

interface Known {
  readonly atMs: number;
  readonly value: number;
  readonly u: number;
}

function changePerYear(known: readonly Known[]): Drift['perYear'] {
  const firstMs = there(known[0]).atMs;
  const years = known.map(({ atMs }) => (atMs - firstMs) / YEAR_MS);
  if (known.length < LEAST_SESSIONS || lastOf(years) < LEAST_YEARS) return null;
  const fit = linearFit(
    years,
    known.map(({ value }) => value),
  );
  if (!fit) return null;
  // Figures may lie on a line by luck: a slope is no surer than they are themselves.
  const u = Math.max(...known.map((one) => one.u)) / (standardDeviation(years) * Math.sqrt(years.length - 1));
  const slopeU = Math.max(fit.slopeU, u);
  return Math.abs(fit.slope) > CLEAR * slopeU ? { value: fit.slope, U: expand(slopeU) } : null;
}
