/**
 * Was the battery disconnected or the logger without power? A voltage near nought between two live stretches is a battery
 * that was taken off, or a clamp that let go; at the log's ends it is the logger being fitted or removed. A hole that
 * begins with a collapsing voltage is a logger that went down with its supply. For other holes the cause stays open.
 */
import type { Analysis, Period } from '../analysis/model.ts';
import { tileAt } from '../analysis/tiles/tiles.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import type { Session } from '../manifest/session.ts';
import { mostBy, total } from '../measures/spans.ts';
import type { Check } from './check.ts';

/** More losses than this are a contact that comes and goes, not somebody at work. Common practice, no source. */
const MOST_LOSSES = 2;

/** Below this a logger that feeds on the battery may stop, V for 12 V. Common practice, no source. */
const COLLAPSE_V = 8;
/** A hole within this of a collapse, or of a crank, began with it, s. */
const JUST_BEFORE_S = 5;
/** Holes shorter than this, together, are not asked about, s. */
const SHORT_HOLES_S = 600;

type Facts = {
  readonly losses: number;
  readonly disconnections: number;
  readonly resets: number;
  readonly offS: number;
  readonly edgeS: number;
  readonly holes: number;
  readonly holeS: number;
  readonly longestT: number | null;
  readonly longestS: number | null;
};

export const check: Check<Facts> = {
  id: 'supply-lost',
  about: 'log',
  side: null,
  needs: [],
  limits: [],
  reasons: ['holes-unexplained'],
  cautions: ['general', 'short-circuit', 'airbag'],
  answer(analysis, session) {
    const off = analysis.periods.filter((period) => period.kind === 'disconnected');
    const inner = off.filter((period) => period.start > analysis.start && period.end < analysis.end);
    const holes = analysis.periods.filter((period) => period.kind === 'no-data' && !hasVoltage(analysis, period));
    const resets = holes.filter((hole) => beganWithCollapse(analysis, session, hole));
    const losses = [...inner, ...resets].toSorted((a, b) => a.start - b.start);
    const longest = mostBy(losses.length > 0 ? losses : holes, lengthS);
    const holeS = total(holes, lengthS) - total(resets, lengthS);
    const base = {
      facts: {
        losses: losses.length,
        disconnections: inner.length,
        resets: resets.length,
        offS: total(inner, lengthS),
        edgeS: total(off, lengthS) - total(inner, lengthS),
        holes: holes.length - resets.length,
        holeS,
        longestT: longest?.start ?? null,
        longestS: longest ? lengthS(longest) : null,
      },
      evidence: longest ? [{ chart: 'supply-lost', from: longest.start, to: longest.end }] : [],
    } as const;
    if (losses.length > MOST_LOSSES) return { ...base, status: 'fault' };
    if (losses.length > 0) return { ...base, status: 'watch' };
    if (holeS > SHORT_HOLES_S) return { ...base, status: 'undecided', reason: 'holes-unexplained' };
    return { ...base, status: 'clear' };
  },
};

/** Where only the current is missing the supply was there. */
function hasVoltage({ tiles }: Analysis, { start, end }: Period): boolean {
  const k = tileAt(tiles, start);
  return k < tiles.n && tiles.t0[k] < end && !Number.isNaN(tiles.v[k]);
}

const lengthS = (period: Period) => period.end - period.start;

function beganWithCollapse(analysis: Analysis, session: Session, hole: Period): boolean {
  const { tiles, cranks } = analysis;
  if (cranks.some((crank) => Math.abs(crank.at + crank.seconds - hole.start) < JUST_BEFORE_S)) return true;
  const leastV = COLLAPSE_V * perTwelveVolt(session.vehicle.systemV);
  for (let k = tileAt(tiles, hole.start - JUST_BEFORE_S); k < tiles.n && tiles.t0[k] < hole.start; k++)
    if (tiles.vMin[k] < leastV) return true;
  return false;
}
