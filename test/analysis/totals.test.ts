import { describe, expect, it } from 'vitest';
import { sampledU } from '../../src/analysis/totals.ts';
import { makeRandom, type Random } from '../../src/demo/random.ts';
import { blockOf, START, tilesOf } from './blocks.ts';

const STEP_S = 20;
const ROWS = 300;
const FINE_S = 0.2;

/** A current of a hundred minutes, every 0.2 s, A. */
type Course = (random: Random) => Float64Array;

const course = (next: (at: number, before: number, random: Random) => number): Course => {
  return (random) => {
    const amps = new Float64Array((ROWS * STEP_S) / FINE_S + 1);
    for (let k = 0; k < amps.length; k++) amps[k] = next(k * FINE_S, amps[k - 1] ?? 0, random);
    return amps;
  };
};

/** Errors of the charge that rows 20 s apart give, each over its own standard uncertainty: root of the mean square. */
function errorOverU(make: Course): number {
  const random = makeRandom(11);
  let squares = 0;
  for (let n = 0; n < 60; n++) {
    const amps = make(random);
    const every = STEP_S / FINE_S;
    const truthAs = FINE_S * amps.reduce((sum, i, k) => sum + (k === 0 || k === amps.length - 1 ? i / 2 : i), 0);
    const rows = Array.from({ length: ROWS + 1 }, (_, k) => ({
      t: START + k * STEP_S,
      v: 12.5,
      i: amps[k * every] ?? 0,
    }));
    const tiles = tilesOf(blockOf(rows));
    const chosen = Array.from({ length: tiles.n }, (_, k) => k);
    const countedAs = chosen.reduce((sum, k) => sum + (tiles.netAs[k] ?? 0), 0);
    squares += ((countedAs - truthAs) / (3600 * sampledU(tiles, chosen))) ** 2;
  }
  return Math.sqrt(squares / 60);
}

// Against the simulated truth: the error of a charge must be as large as its standard uncertainty says (JCGM 100, 4.2 and 4.3.7).
describe('what flows between two rows is in the uncertainty of a charge', () => {
  it('where loads are switched now and then', () => {
    const switched = course((_, before, random) => (random.chance(0.0003) ? -10 * random.uniform() : before));
    expect(errorOverU(switched)).toBeGreaterThan(0.75);
    expect(errorOverU(switched)).toBeLessThan(1.3);
  });

  it('where the current is restless within a second', () => {
    const restless = course((_, before, random) => 0.8 * before + 2 * random.normal());
    expect(errorOverU(restless)).toBeLessThan(1.3);
  });

  it('where some row meets a pulse of half a second', () => {
    // 300 A for 0.5 s, once in 25 s: each fortieth row takes it for 20 s.
    const pulses = course((at) => (at % 25.1 < 0.5 ? -300 : -1));
    expect(errorOverU(pulses)).toBeLessThan(1.3);
  });

  it('and hardly more where the current falls smoothly', () => {
    const taper = course((at) => 40 * Math.exp(-at / 1800));
    const random = makeRandom(1);
    const amps = taper(random);
    const rows = Array.from({ length: ROWS + 1 }, (_, k) => ({ t: START + k * STEP_S, v: 14, i: amps[k * 100] ?? 0 }));
    const tiles = tilesOf(blockOf(rows));
    // Of 20 Ah.
    expect(
      sampledU(
        tiles,
        Array.from({ length: tiles.n }, (_, k) => k),
      ),
    ).toBeLessThan(0.03);
  });
});
