/** Gives a hand-built analysis tiles of its own: what the log showed from moment to moment. */
import type { Analysis, Crank, PeriodKind } from '../../src/analysis/model.ts';

export interface Moment {
  readonly v?: number;
  readonly vMin?: number;
  readonly i?: number;
  readonly iMin?: number;
  readonly temp?: number;
  /** One value a channel, in every moment or none. */
  readonly ch?: readonly number[];
}

/** Tiles of at most `stepS`, told by their middle and the kind of their period; what is not told has no reading. */
export function withTiles(analysis: Analysis, told: (t: number, kind: PeriodKind) => Moment, stepS = 10): Analysis {
  const t0: number[] = [];
  const t1: number[] = [];
  const moments: Moment[] = [];
  for (const period of analysis.periods) {
    if (period.kind === 'no-data') continue;
    const n = Math.ceil((period.end - period.start) / stepS - 1e-9);
    for (let k = 0; k < n; k++) {
      t0.push(k === 0 ? period.start : t1[t1.length - 1]);
      t1.push(k === n - 1 ? period.end : period.start + (k + 1) * stepS);
      moments.push(told((t0[t0.length - 1] + t1[t1.length - 1]) / 2, period.kind));
    }
  }
  const column = (of: (moment: Moment) => number | undefined) =>
    Float64Array.from(moments, (moment) => of(moment) ?? Number.NaN);
  const i = column((moment) => moment.i);
  const channels = moments[0]?.ch?.length ?? 0;
  const ch = Array.from({ length: channels }, (_, c) => column((moment) => moment.ch?.[c]));
  return {
    ...analysis,
    has: { ...analysis.has, channels: ch.map(() => true) },
    tiles: {
      n: moments.length,
      t0: Float64Array.from(t0),
      t1: Float64Array.from(t1),
      rows: column(() => 1),
      v: column((moment) => moment.v),
      vMin: column((moment) => moment.vMin ?? moment.v),
      vMax: column((moment) => moment.v),
      i,
      iMin: column((moment) => moment.iMin ?? moment.i),
      iMax: i,
      iCov: Float64Array.from(t1, (end, k) => end - t0[k]),
      jumpsAs2: new Float64Array(t1.length),
      turnsAs2: new Float64Array(t1.length),
      netAs: Float64Array.from(t1, (end, k) => i[k] * (end - t0[k])),
      iRough: column(() => 0),
      vRough: column(() => 0.001),
      temp: column((moment) => moment.temp),
      chMin: ch,
      chMax: ch,
    },
  };
}

/** The same cranks with other readings. */
export function withCranks(analysis: Analysis, told: (k: number) => Partial<Crank>): Analysis {
  return { ...analysis, cranks: analysis.cranks.map((crank, k) => ({ ...crank, ...told(k) })) };
}

/** A waveform at 50 Hz from 1 s before a crank: `amps` by the time since its begin, negative out of the battery. */
export function wave(at: number, amps: (since: number) => number): Crank['wave'] {
  const since = Array.from({ length: 200 }, (_, k) => k / 50 - 1);
  return {
    t: Float64Array.from(since, (s) => at + s),
    v: Float64Array.from(since, () => 12),
    i: Float64Array.from(since, (s) => (s < 0 || s > 1 ? -5 : amps(s))),
  };
}
