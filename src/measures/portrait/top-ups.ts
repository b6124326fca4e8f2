/** Top-ups: when a hybrid's or electric vehicle's own converter charges the 12 V battery while parked. */
import type { Analysis, Span } from '../../analysis/model.ts';
import { tilesWithin } from '../../analysis/tiles/tiles-in.ts';
import { perTwelveVolt } from '../../battery/chemistry.ts';
import { median } from '../../battery/statistics.ts';
import { measure } from '../measure.ts';
import { findClock } from '../wakes/periodicity.ts';
import type { Spread } from './distribution.ts';
import { spreadOf } from './spread-of.ts';

/** A pause no longer than this, as where a step of the log lies between, parts no top-up, s. */
const PAUSE_S = 60;
/** Below the voltage that it was held at while current flowed in, for each 12 V, the converter is off. Common practice, no source. */
const FALLS_BACK_V = 0.1;
/** A key-on so soon after it ended it, s. */
const KEY_ON_S = 120;
/** Two and three top-ups keep a clock where the times between agree within this; more are asked as wakes are. */
const ALIKE = 0.03;

export interface TopUp extends Span {
  /** Index into the stands; −1 where it lies in none. */
  readonly stand: number;
  readonly chargeAh: number;
  /** Means over its time; null without current. */
  readonly amps: number | null;
  readonly volts: number;
  /** What still flowed at its end, mean of the last tenth, A; null without current. */
  readonly endAmps: number | null;
  /** From the top-up before it, or else from key-off, to its begin, s; null where that was before the log. */
  readonly afterS: number | null;
  readonly endedByKeyOn: boolean;
}

export interface TopUps {
  readonly all: readonly TopUp[];
  readonly periodS: number | null;
  readonly seconds: Spread | null;
  readonly chargeAh: Spread | null;
  readonly volts: Spread | null;
  readonly amps: Spread | null;
  readonly endAmps: Spread | null;
  readonly afterS: Spread | null;
}

export const topUps = measure((analysis, session): TopUps => {
  const fallsV = FALLS_BACK_V * perTwelveVolt(session.vehicle.systemV);
  const spans = joinedSpans(analysis).map((span) => whileFed(analysis, span, fallsV));
  const all = spans.map((span, k) => describe(analysis, span, spans[k - 1]));
  const known = (of: (one: TopUp) => number | null) => spreadOf(all.flatMap((one) => of(one) ?? []));
  return {
    all,
    periodS: periodOf(all),
    seconds: known(({ start, end }) => end - start),
    chargeAh: known(({ chargeAh }) => chargeAh),
    volts: known(({ volts }) => volts),
    amps: known(({ amps }) => amps),
    endAmps: known(({ endAmps }) => endAmps),
    afterS: known(({ afterS }) => afterS),
  };
});

function joinedSpans({ topUps: spans }: Analysis): Span[] {
  const joined: { start: number; end: number }[] = [];
  for (const { start, end } of spans) {
    const last = joined.at(-1);
    if (last && start - last.end <= PAUSE_S) last.end = end;
    else joined.push({ start, end });
  }
  return joined;
}

/** It begins and ends with its current: what stands before and after, while the voltage rises and falls back, is no part of it. */
function whileFed(analysis: Analysis, span: Span, fallsV: number): Span {
  const { tiles } = analysis;
  const within = tilesWithin(tiles, span);
  const isFed = (k: number) => (tiles.iCov[k] ?? 0) > 0 && (tiles.netAs[k] ?? 0) > 0;
  const [first, last] = [within.find(isFed), within.findLast(isFed)];
  if (first === undefined || last === undefined) return span;
  const isHeld = (k: number, by: number) => (tiles.v[k] ?? 0) >= (tiles.v[by] ?? 0) - fallsV;
  // A full battery takes nothing and is held all the same.
  const from = within.find((k) => k === first || isHeld(k, first)) ?? first;
  const to = within.findLast((k) => k === last || isHeld(k, last)) ?? last;
  return { start: Math.max(span.start, tiles.t0[from] ?? 0), end: Math.min(span.end, tiles.t1[to] ?? 0) };
}

function describe(analysis: Analysis, span: Span, before: Span | undefined): TopUp {
  const { tiles, stands } = analysis;
  const { start, end } = span;
  const stand = stands.findIndex((one) => one.start <= start && one.end >= start);
  const own = stands[stand];
  const within = tilesWithin(tiles, span);
  const late = within.filter((k) => (tiles.t0[k] ?? 0) >= end - (end - start) / 10);
  const since = before && own && before.start >= own.start ? before.end : own?.keyOffInLog ? own.start : null;
  const seconds = (k: number) => (tiles.t1[k] ?? 0) - (tiles.t0[k] ?? 0);
  const meanA = (among: readonly number[]) => {
    const covered = sum(among, (k) => tiles.iCov[k] ?? 0);
    return covered > 0 ? sum(among, (k) => tiles.netAs[k] ?? 0) / covered : null;
  };
  return {
    start,
    end,
    stand,
    chargeAh:
      Math.max(
        0,
        sum(within, (k) => tiles.netAs[k] ?? 0),
      ) / 3600,
    amps: meanA(within),
    volts: sum(within, (k) => (tiles.v[k] ?? 0) * seconds(k)) / sum(within, seconds),
    endAmps: meanA(late),
    afterS: since === null ? null : start - since,
    endedByKeyOn: own?.keyOnInLog === true && own.end - end < KEY_ON_S,
  };
}

const sum = (items: readonly number[], of: (k: number) => number) => items.reduce((all, k) => all + of(k), 0);

/** From begin to begin, within a stand. */
function periodOf(all: readonly TopUp[]): number | null {
  const series = [...new Set(all.map(({ stand }) => stand))].map((stand) =>
    all.filter((one) => one.stand === stand).map(({ start }) => start),
  );
  const waits = series.flatMap((times) => times.slice(1).map((t, k) => t - (times[k] ?? t)));
  const usual = median(waits);
  if (waits.length >= 2 && waits.every((wait) => Math.abs(wait - usual) <= ALIKE * usual)) return usual;
  return findClock(series, median(all.map(({ start, end }) => end - start)))?.periodS ?? null;
}
