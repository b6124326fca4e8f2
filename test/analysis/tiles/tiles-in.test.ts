import { expect, it } from 'vitest';
import { tilesIn, tilesWithin } from '../../../src/analysis/tiles/tiles-in.ts';
import { hole, log, START, stretch, tilesOf } from '../blocks.ts';

const tiles = tilesOf(
  log([stretch(600, 1, { v: 12.6, i: -0.02 }), hole(3600), stretch(600, 1, { v: 12.5, i: -0.02 })]),
);
const behind = tiles.t0.subarray(0, tiles.n).findIndex((t) => t >= START + 4200);

it('takes tiles that begin in periods of a kind, and those that lie whole in a span', () => {
  const period = (kind: 'asleep' | 'driving', start: number, end: number) =>
    ({
      kind,
      start: START + start,
      end: START + end,
      chargeInAh: 0,
      chargeOutAh: 0,
      evidence: [],
      certainty: 1,
    }) as const;
  const periods = [period('asleep', 0, 600), period('driving', 4200, 4800)];
  const driving = tilesIn({ tiles, periods }, ['driving']);
  expect(driving[0]).toBe(behind);
  expect(driving.length + tilesIn({ tiles, periods }, ['asleep']).length).toBe(tiles.n);
  for (const k of tilesWithin(tiles, { start: START + 100.5, end: START + 300.5 })) {
    expect(tiles.t0[k]).toBeGreaterThanOrEqual(START + 100.5);
    expect(tiles.t1[k]).toBeLessThanOrEqual(START + 300.5);
  }
});
