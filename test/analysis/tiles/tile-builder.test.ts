import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { columnsOf } from '../../../src/analysis/tiles/tile-store.ts';
import { joined } from '../../../src/analysis/tiles/tiles.ts';
import { blockOf, hole, inBlocks, log, type Row, START, stretch, sum, tilesOf } from '../blocks.ts';

/** Steps of 50 to 900 ms: uneven, but none that could be a gap. */
const unevenSteps = fc.array(fc.integer({ min: 50, max: 900 }), { minLength: 20, maxLength: 300 });

function timesOf(stepsMs: readonly number[]): number[] {
  let at = 0;
  return [0, ...stepsMs.map((ms) => (at += ms))].map((ms) => START + ms / 1000);
}

/** A reading that is now and then missing. */
const reading = fc.oneof({ weight: 6, arbitrary: fc.integer({ min: -4000, max: 4000 }) }, fc.constant(null));
const patchyRows = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 1200 }), reading, reading, reading), { minLength: 2, maxLength: 400 })
  .map((raw): Row[] => {
    let t = START;
    const value = (x: number | null) => (x === null ? Number.NaN : x / 256);
    return raw.map(([ms, v, i, x]) => {
      t += ms / 1000;
      return { t, v: value(v), i: value(i), temp: value(x), ch: [value(i)] };
    });
  });

describe('the trapezium rule', () => {
  it('is exact on a constant, whatever the steps', () => {
    fc.assert(
      fc.property(unevenSteps, (stepsMs) => {
        const times = timesOf(stepsMs);
        const tiles = tilesOf(blockOf(times.map((t) => ({ t, v: 12.5, i: -0.75 }))));
        const lengthS = times[times.length - 1] - START;
        expect(sum(tiles.netAs, tiles.n)).toBeCloseTo(-0.75 * lengthS, 6);
        expect(sum(tiles.iCov, tiles.n)).toBeCloseTo(lengthS, 6);
        for (let k = 0; k < tiles.n; k++) expect(tiles.v[k]).toBeCloseTo(12.5, 9);
      }),
    );
  });

  it('is exact on a ramp: each tile has the value at its middle', () => {
    fc.assert(
      fc.property(unevenSteps, (stepsMs) => {
        const at = (t: number) => 3 - 0.25 * (t - START);
        const times = timesOf(stepsMs);
        const tiles = tilesOf(blockOf(times.map((t) => ({ t, v: 10, i: at(t) }))));
        const end = times[times.length - 1];
        expect(sum(tiles.netAs, tiles.n)).toBeCloseTo(0.5 * (at(START) + at(end)) * (end - START), 5);
        for (let k = 0; k < tiles.n; k++) {
          expect(tiles.i[k]).toBeCloseTo(at((tiles.t0[k] + tiles.t1[k]) / 2), 5);
        }
      }),
    );
  });

  it('comes as near to the area under a half sine as its own error term says', () => {
    // 1.983524 for 10 steps from 0 to π: computed from the rule; one step a second, so one tile a step.
    const rows = Array.from({ length: 11 }, (_, k) => ({ t: START + k, v: 12, i: Math.sin((k * Math.PI) / 10) }));
    expect((sum(tilesOf(blockOf(rows)).netAs) * Math.PI) / 10).toBeCloseTo(1.983524, 6);
  });
});

describe('tiles', () => {
  it('do not depend on how the rows come in blocks', () => {
    fc.assert(
      fc.property(
        patchyRows,
        fc.array(fc.integer({ min: 1, max: 50 }), { minLength: 1, maxLength: 6 }),
        (rows, sizes) => {
          const whole = tilesOf(blockOf(rows));
          const parts = tilesOf(inBlocks(blockOf(rows), sizes));
          expect(parts.n).toBe(whole.n);
          columnsOf(whole).forEach((column, c) => {
            expect(columnsOf(parts)[c].subarray(0, whole.n)).toEqual(column.subarray(0, whole.n));
          });
        },
      ),
    );
  });

  it('follow each other without overlap and hold every row once', () => {
    fc.assert(
      fc.property(patchyRows, (rows) => {
        // A log over which no time passes is refused by the reader.
        fc.pre(rows[rows.length - 1].t > rows[0].t);
        const tiles = tilesOf(blockOf(rows));
        for (let k = 0; k < tiles.n; k++) {
          expect(tiles.t1[k]).toBeGreaterThan(tiles.t0[k]);
          if (k > 0) expect(tiles.t0[k]).toBeGreaterThanOrEqual(tiles.t1[k - 1]);
        }
        if (tiles.n > 0) expect(sum(tiles.rows, tiles.n)).toBe(rows.length);
      }),
    );
  });

  it('lose no extreme of any column, neither in a tile nor on the whole', () => {
    fc.assert(
      fc.property(patchyRows, (rows) => {
        const tiles = tilesOf(blockOf(rows));
        if (tiles.n === 0) return;
        const extremes = (values: readonly (number | undefined)[]) => {
          const known = values.filter((x) => x !== undefined && !Number.isNaN(x)) as number[];
          return known.length ? [Math.min(...known), Math.max(...known)] : [];
        };
        const ofTiles = (min: Float64Array, max: Float64Array) =>
          extremes([...min.subarray(0, tiles.n), ...max.subarray(0, tiles.n)]);
        expect(ofTiles(tiles.vMin, tiles.vMax)).toEqual(extremes(rows.map((row) => row.v)));
        expect(ofTiles(tiles.iMin, tiles.iMax)).toEqual(extremes(rows.map((row) => row.i)));
        expect(ofTiles(tiles.chMin[0], tiles.chMax[0])).toEqual(extremes(rows.map((row) => row.ch?.[0])));
      }),
    );
  });

  it('keep the first reading after a gap', () => {
    const after = { t: START + 400, v: 9.1, i: -80 };
    const rows = [...Array(60).keys()].map((k): Row => ({ t: START + k, v: 12.6, i: -0.02 }));
    const later = [...Array(60).keys()].map((k): Row => ({ t: START + 401 + k, v: 12.5, i: -0.02 }));
    const tiles = tilesOf(blockOf([...rows, after, ...later]));
    expect(Math.min(...tiles.vMin.subarray(0, tiles.n))).toBe(9.1);
    expect(Math.min(...tiles.iMin.subarray(0, tiles.n))).toBe(-80);
  });

  it('keep rows at the end that share the last time', () => {
    const rows = [...Array(30).keys()].map((k): Row => ({ t: START + k, v: 12.6, i: -0.02 }));
    const tiles = tilesOf(blockOf([...rows, { t: START + 29, v: 11.2, i: -9 }]));
    expect(Math.min(...tiles.vMin.subarray(0, tiles.n))).toBe(11.2);
    expect(sum(tiles.rows, tiles.n)).toBe(31);
  });
});

describe('a gap', () => {
  const awake = { v: 12.6, i: -2 };
  const twoGaps = log([stretch(100, 1, awake), hole(300), stretch(4, 1, awake), hole(60), stretch(100, 1, awake)]);

  it('is not integrated over, nor is another soon after it', () => {
    const tiles = tilesOf(twoGaps);
    // 99 s + 3 s + 99 s lie between rows.
    expect(sum(tiles.iCov, tiles.n)).toBeCloseTo(201, 9);
    expect(sum(tiles.netAs, tiles.n)).toBeCloseTo(-402, 9);
    const holes = [...Array(tiles.n).keys()].filter((k) => k > 0 && !joined(tiles, k));
    expect(holes.map((k) => Math.round(tiles.t0[k] - tiles.t1[k - 1]))).toEqual([301, 61]);
  });

  it('of one column alone is not integrated over', () => {
    const block = log([stretch(100, 1, awake), stretch(300, 1, { v: 12.6 }), stretch(100, 1, awake)]);
    const tiles = tilesOf(block);
    expect(sum(tiles.iCov, tiles.n)).toBeCloseTo(198, 9);
    expect(sum(tiles.netAs, tiles.n)).toBeCloseTo(-396, 9);
    expect(tiles.t1[tiles.n - 1] - tiles.t0[0]).toBeCloseTo(499, 9);
  });
});

describe('columns with times of their own', () => {
  it('are integrated over their own readings', () => {
    // Voltage each second, current in every fourth row: a ramp is exact on whatever rows it has.
    const rows = [...Array(401).keys()].map((k): Row => ({ t: START + k, v: 12.5, i: k % 4 ? Number.NaN : 0.01 * k }));
    const tiles = tilesOf(blockOf(rows));
    expect(sum(tiles.iCov, tiles.n)).toBeCloseTo(400, 9);
    expect(sum(tiles.netAs, tiles.n)).toBeCloseTo(0.5 * 4 * 400, 9);
  });

  it('leave no tile without current where current is only slower, once its pace is known', () => {
    const rows = [...Array(401).keys()].map((k): Row => ({ t: START + k, v: 12.5, i: k % 4 ? Number.NaN : -0.02 }));
    const tiles = tilesOf(blockOf(rows));
    for (let k = 0; k < tiles.n; k++) if (tiles.t0[k] >= START + 4) expect(tiles.i[k]).toBeCloseTo(-0.02, 12);
  });

  it('are not disturbed by rows that hold temperature alone', () => {
    const rows = [...Array(201).keys()].flatMap((k): Row[] => [
      { t: START + 10 * k, v: 12.5, i: -0.02 },
      ...(k % 6 === 5 ? [{ t: START + 10 * k + 4, v: Number.NaN, temp: 18 }] : []),
    ]);
    const tiles = tilesOf(blockOf(rows));
    for (let k = 0; k < tiles.n; k++) {
      expect(tiles.v[k]).toBeCloseTo(12.5, 12);
      expect(tiles.i[k]).toBeCloseTo(-0.02, 12);
    }
    expect(tiles.temp.subarray(0, tiles.n)).toContain(18);
  });
});
