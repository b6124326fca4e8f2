import { expect, it } from 'vitest';
import {
  type MeasuredCrank,
  measuredCranks,
  ratingOhm,
  seenInCranks,
  starterDrawsTooLittle,
  usualOhm,
} from '../../src/measures/starter.ts';
import { session, week } from '../checks/analysis-fixture.ts';

const crank = (voltsCranking: number | null, ohm: number) =>
  ({
    voltsBefore: 12.6,
    voltsCranking: voltsCranking === null ? null : { value: voltsCranking, u: 0 },
    resistanceOhm: { value: ohm, u: 0 },
  }) as MeasuredCrank;

it('the draw is the fall of voltage over the resistance that goes with it', () => {
  const seen = seenInCranks([crank(11.4, 0.006), crank(11.4, 0.006), crank(null, 0.006)]);
  expect(seen?.ohm).toBe(0.006);
  expect(seen?.drawA).toBeCloseTo(200, 6);
  expect(seenInCranks([])).toBeNull();
});

it('believes no resistance that a clipped current made, nor one of nothing', () => {
  expect(measuredCranks(week({ resistanceOhm: 0.006 }), session()).length).toBeGreaterThan(0);
  expect(measuredCranks(week({ resistanceOhm: -0.001 }), session())).toEqual([]);
  expect(measuredCranks(week({ resistanceOhm: null }), session())).toEqual([]);
  // The peaks reach the range, and the waveform does not say that it was the inrush alone.
  const small = session({ columns: { current: { name: 'a', unit: 'A', positive: 'charging', rangeA: 400 } } });
  const analysis = week({ resistanceOhm: 0.006 });
  const reached = { ...analysis, tiles: { ...analysis.tiles, iMin: analysis.tiles.iMin.map(() => -400) } };
  expect(measuredCranks(reached, small)).toEqual([]);
});

it('expects a resistance by the rating, else by the size, else none', () => {
  const rated = session();
  expect(usualOhm(rated)).toBe(ratingOhm(rated, null));
  const unrated = session({ battery: { coldCrankingA: undefined } });
  expect(usualOhm(unrated)).toBeCloseTo(0.5 / 70, 12);
  expect(usualOhm(session({ battery: { coldCrankingA: undefined, capacityAh: undefined } }))).toBeNull();
  expect(usualOhm(session({ battery: { chemistry: 'lfp', capacityAh: 4 } }))).toBeNull();
  expect(ratingOhm(session({ battery: { chemistry: 'lfp' } }), null)).toBeNull();
});

it('too little draw with too high a resistance shows a current of which the sensor sees a part; a worn battery does not', () => {
  expect(starterDrawsTooLittle({ ohm: 0.05, drawA: 40 }, session())).toBe(true);
  expect(starterDrawsTooLittle({ ohm: 0.05, drawA: 200 }, session())).toBe(false);
  expect(starterDrawsTooLittle({ ohm: 0.001, drawA: 40 }, session())).toBe(false);
  expect(starterDrawsTooLittle({ ohm: 0.05, drawA: null }, session())).toBe(false);
});
