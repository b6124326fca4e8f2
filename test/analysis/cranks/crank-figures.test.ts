/** Plateau and resistance of starts that were made of known ones. */
import { describe, expect, it } from 'vitest';
import { plateauOf, resistanceOf } from '../../../src/analysis/cranks/crank-figures.ts';
import type { Row } from '../../../src/analysis/cranks/raw-crank.ts';

const OHM = 0.005;
const amps = (s: number) => 200 + 50 * Math.sin(50 * s) + (s < 0.1 ? 300 : 0);
const start = (stepS: number, other: (s: number) => number = () => 0): Row[] =>
  Array.from({ length: Math.round(1.2 / stepS) }, (_, k) => {
    const s = k * stepS;
    return [s, 12.5 - OHM * amps(s) + other(s), -amps(s), 20];
  });
const settled = (rows: readonly Row[]) => rows.filter(([s]) => s >= 0.3);

describe('the plateau', () => {
  it('is the mean, and ripple that the current explains is no scatter', () => {
    const rows = settled(start(0.01));
    const { volts, scatterU, n } = plateauOf(rows);
    expect(volts).toBeCloseTo(rows.reduce((sum, [, v]) => sum + v, 0) / rows.length, 12);
    expect(n).toBe(rows.length);
    expect(scatterU).toBeLessThan(0.01);
  });

  it('scatters the more without current, which would explain it', () => {
    const rows = settled(start(0.01));
    const alone = rows.map(([t, v, , c]): Row => [t, v, Number.NaN, c]);
    expect(plateauOf(alone).scatterU).toBeGreaterThan(3 * plateauOf(rows).scatterU);
  });
});

describe('the resistance', () => {
  const found = (rows: readonly Row[]) => resistanceOf(rows, settled(rows), 12.5, 0);
  it('is the one that it was made of', () => {
    expect(found(start(0.01))?.ohm).toBeCloseTo(OHM, 5);
  });

  it('is not moved by what the charge drawn takes off, and is less sure of it', () => {
    const polarised = found(start(0.01, (s) => -0.1 * s));
    expect(polarised?.ohm).toBeCloseTo(OHM, 3);
    expect((polarised?.halfOhm ?? 0) + (polarised?.scatterU ?? 0)).toBeGreaterThan(found(start(0.01))?.scatterU ?? 1);
  });

  it('is from rest to plateau where rows are few, with room for what is slow', () => {
    const rows = start(0.2).map(([t, , , c]): Row => [t, 12.5 - OHM * 200, -200, c]);
    expect(found(rows)).toMatchObject({ halfOhm: expect.closeTo(OHM / 4, 6) });
  });

  it('is none without three rows of a plateau', () => {
    expect(resistanceOf(start(0.5), settled(start(0.5)).slice(0, 2), 12.5, 0)).toBeNull();
  });
});

// Two loads, 40 A at 12.30 V and 200 A at 11.50 V: 5.00 mΩ (method of IEC 60896-21, from memory; computed)
it('where the current does not change, the fall from rest to the plateau is taken, and a quarter of it left open', () => {
  const steady = Array.from({ length: 6 }, (_, k) => [k * 0.1, 11.5, -200, 20] as const);
  const found = resistanceOf(steady, steady, 12.3, -40);
  expect(found?.ohm).toBeCloseTo(0.005, 9);
  expect(found?.halfOhm).toBeCloseTo(0.00125, 9);
});

it('where it changes, the slope beside it is surer, and leaves less open', () => {
  const rippling = Array.from({ length: 40 }, (_, k) => {
    const amps = 200 + 20 * Math.sin(k);
    return [k * 0.02, 12.5 - 0.005 * amps, -amps, 20] as const;
  });
  const found = resistanceOf(rippling, rippling, 12.3, -40);
  expect(found?.ohm).toBeCloseTo(0.005, 6);
  expect(found?.halfOhm).toBeLessThan(0.0001);
});

it('a cell that gives way under the starter is in the fall, not in the slope', () => {
  // 5 mΩ, and 1.6 V that are lost at once and stay so.
  const rows: Row[] = Array.from({ length: 12 }, (_, k) => {
    const amps = k === 0 ? 340 : 190 + 20 * Math.sin(k);
    return [k * 0.1, 12.5 - 1.6 - 0.005 * amps, -amps, 20];
  });
  const found = resistanceOf(rows, rows.slice(3), 12.5, -7);
  expect(found?.ohm).toBeCloseTo(0.0138, 3);
  expect(found?.halfOhm).toBeGreaterThan(0.003);
  // Surface charge of half a volt is no such cell.
  const fresh = rows.map(([t, v, i, c]): Row => [t, v + 1.1, i, c]);
  expect(resistanceOf(fresh, fresh.slice(3), 12.5, -7)?.ohm).toBeCloseTo(0.005, 3);
});
