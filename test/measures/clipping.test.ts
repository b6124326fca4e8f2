import { expect, it } from 'vitest';
import type { Crank } from '../../src/analysis/model.ts';
import { clippingOf, largestCurrentA, plateauClipped } from '../../src/measures/clipping.ts';
import { session, week } from '../checks/analysis-fixture.ts';

const current = (rangeA: number) => ({ name: 'a', unit: 'A', positive: 'charging', rangeA }) as const;

/** The usual week with these peaks of its cranks, A. */
function withPeaks(peakOf: (k: number) => number) {
  const analysis = week();
  const cranks = analysis.cranks.map((crank, k) => ({ ...crank, ampsPeak: peakOf(k) }));
  const starts = new Map(cranks.map(({ at, ampsPeak }) => [at, ampsPeak]));
  const iMin = analysis.tiles.iMin.map((amps, k) => -(starts.get(analysis.tiles.t0[k]) ?? Math.abs(amps)));
  return { ...analysis, cranks, tiles: { ...analysis.tiles, iMin } };
}

it('knows readings at the end of the range that the manifest states', () => {
  const analysis = withPeaks((k) => (k < 2 ? 300 : 250));
  expect(clippingOf(analysis, session({ columns: { current: current(300) } }))).toMatchObject({
    by: 'range',
    levelA: 300,
    cranks: 2,
  });
  expect(clippingOf(analysis, session({ columns: { current: current(600) } }))).toBeNull();
  expect(largestCurrentA(analysis)).toBe(300);
});

it('without a range, cranks that all stop at one peak tell it: no two starts are alike', () => {
  expect(
    clippingOf(
      withPeaks(() => 200),
      session(),
    )?.by,
  ).toBe('same-peak');
  expect(
    clippingOf(
      withPeaks((k) => 380 + 7 * k),
      session(),
    ),
  ).toBeNull();
});

it('clipping in the inrush alone leaves the resistance', () => {
  const t = Float64Array.from({ length: 100 }, (_, k) => k / 100);
  const crank = (i: (s: number) => number) =>
    ({ at: 0, seconds: 1, ampsPeak: 300, wave: { t, v: t, i: t.map((s) => -i(s)) } }) as unknown as Crank;
  const clipping = { levelA: 300, by: 'range', tiles: 1, at: 0, cranks: 1 } as const;
  expect(
    plateauClipped(
      crank((s) => (s < 0.2 ? 300 : 180)),
      clipping,
    ),
  ).toBe(false);
  expect(
    plateauClipped(
      crank((s) => (s < 0.6 ? 300 : 180)),
      clipping,
    ),
  ).toBe(true);
  expect(
    plateauClipped(
      crank(() => 300),
      null,
    ),
  ).toBe(false);
});
