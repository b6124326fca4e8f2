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
  const stretches = analysis.periods
    .filter(({ kind }) => kind !== 'no-data')
    .map((period) => ({ ...period, n: Math.ceil((period.end - period.start) / stepS - 1e-9) }));
  const n = stretches.reduce((sum, stretch) => sum + stretch.n, 0);
  const column = (value = 0) => new Float64Array(n).fill(value);
  const [t0, t1, iCov, netAs] = [column(), column(), column(), column()];
  const [v, vMin, i, iMin, temp] = [column(), column(), column(), column(), column()];
  const ch: Float64Array[] = [];
  let k = 0;
  for (const { start, end, kind, n: tiles } of stretches) {
    for (let tile = 0; tile < tiles; tile++, k++) {
      t0[k] = start + tile * stepS;
      t1[k] = tile === tiles - 1 ? end : t0[k] + stepS;
      const moment = told((t0[k] + t1[k]) / 2, kind);
      iCov[k] = t1[k] - t0[k];
      v[k] = moment.v ?? Number.NaN;
      vMin[k] = moment.vMin ?? v[k];
      i[k] = moment.i ?? Number.NaN;
      iMin[k] = moment.iMin ?? i[k];
      netAs[k] = i[k] * iCov[k];
      temp[k] = moment.temp ?? Number.NaN;
      for (let c = 0; c < (moment.ch?.length ?? 0); c++) {
        ch[c] ??= column(Number.NaN);
        ch[c][k] = moment.ch?.[c] ?? Number.NaN;
      }
    }
  }
  return {
    ...analysis,
    has: { ...analysis.has, channels: ch.map(() => true) },
    tiles: {
      n,
      t0,
      t1,
      rows: column(1),
      v,
      vMin,
      vMax: v,
      i,
      iMin,
      iMax: i,
      iCov,
      jumpsAs2: column(),
      turnsAs2: column(),
      netAs,
      iRough: column(),
      vRough: column(0.001),
      temp,
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
