/**
 * Current and voltage by what the vehicle does. A value is the mean over a tile: a second, or the log's step where that is
 * longer, or up to some minutes of a quiet stretch in a log of weeks, whose readings are then alike. Of cranks, which are
 * shorter, the readings themselves are taken.
 */
import type { Analysis, Period, PeriodKind } from '../../analysis/model.ts';
import { measure } from '../measure.ts';
import { AMPERES, createDistribution, type Distribution, VOLTS } from './distribution.ts';
import { topUps } from './top-ups.ts';

/** A period's kind, or what the vehicle's own converter puts in while parked, which lies within `awake`. */
export type PortraitKind = PeriodKind | 'top-up';

export interface StateShown {
  readonly kind: PortraitKind;
  readonly seconds: number;
  /** Of the time of the whole log; a top-up's is a part of that awake. */
  readonly share: number;
  /** Null without current. */
  readonly current: Distribution | null;
  readonly voltage: Distribution;
}

const ORDER: readonly PortraitKind[] = [
  'asleep',
  'awake',
  'top-up',
  'settling',
  'key-on',
  'cranking',
  'driving',
  'on-charger',
  'unknown',
  'disconnected',
];

/** Kinds that have readings. */
export const portraitStates = measure((analysis, session): readonly StateShown[] => {
  const found = new Map<PortraitKind, { seconds: number; current: Distribution; voltage: Distribution }>();
  const of = (kind: PortraitKind) => {
    const known = found.get(kind);
    if (known) return known;
    const created = { seconds: 0, current: createDistribution(AMPERES), voltage: createDistribution(VOLTS) };
    found.set(kind, created);
    return created;
  };
  for (const { kind, start, end } of analysis.periods) of(kind).seconds += end - start;
  const fed = topUps(analysis, session).all;
  for (const { start, end } of fed) of('top-up').seconds += end - start;
  const kindAt = walker(analysis.periods);
  const isToppedUp = walker(fed);
  const fromWaves = addCranks(analysis, of('cranking'));
  const { tiles } = analysis;
  const addTile = (state: ReturnType<typeof of>, k: number, seconds: number) => {
    state.voltage.add(tiles.v[k] ?? Number.NaN, seconds);
    state.current.add(tiles.i[k] ?? Number.NaN, tiles.iCov[k] || seconds);
  };
  for (let k = 0; k < tiles.n; k++) {
    const t0 = tiles.t0[k] ?? 0;
    const seconds = (tiles.t1[k] ?? 0) - t0;
    const period = kindAt(t0);
    if (!period || (period.kind === 'cranking' && fromWaves)) continue;
    if (period.kind === 'awake' && isToppedUp(t0)) addTile(of('top-up'), k, seconds);
    addTile(of(period.kind), k, seconds);
  }
  const whole = analysis.end - analysis.start;
  return ORDER.flatMap((kind) => {
    const state = found.get(kind);
    if (!state || state.voltage.seconds === 0) return [];
    const { seconds, current, voltage } = state;
    return [{ kind, seconds, share: seconds / whole, current: current.seconds > 0 ? current : null, voltage }];
  });
});

/** Asked for rising times: the span that holds each, or undefined. */
function walker<T extends Pick<Period, 'start' | 'end'>>(spans: readonly T[]): (t: number) => T | undefined {
  let at = 0;
  return (t) => {
    while ((spans[at]?.end ?? Number.POSITIVE_INFINITY) <= t) at++;
    const span = spans[at];
    return span && span.start <= t ? span : undefined;
  };
}

/** True where every crank kept its readings. */
function addCranks({ cranks }: Analysis, state: { current: Distribution; voltage: Distribution }): boolean {
  if (cranks.length === 0 || cranks.some(({ wave }) => wave.t.length === 0)) return false;
  for (const { at, seconds, wave } of cranks) {
    for (let k = 1; k < wave.t.length; k++) {
      const [t0, t1] = [wave.t[k - 1] ?? 0, wave.t[k] ?? 0];
      if (t0 < at || t1 > at + seconds + 1e-6) continue;
      state.voltage.add(((wave.v[k - 1] ?? 0) + (wave.v[k] ?? 0)) / 2, t1 - t0);
      state.current.add(((wave.i[k - 1] ?? 0) + (wave.i[k] ?? 0)) / 2, t1 - t0);
    }
  }
  return state.voltage.seconds > 0;
}
