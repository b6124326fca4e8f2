import { expect, it } from 'vitest';
import { wakeDraw } from '../../../src/measures/wakes/wake-draw.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

const drawOf = (told: Parameters<typeof week>[0], edit = (analysis: ReturnType<typeof week>) => analysis) =>
  wakeDraw(edit(week(told)), session());

it('spreads the charge of the wakes over the time in which they could be seen', () => {
  const found = drawOf({ wakesPerStand: 4 });
  const analysis = week({ wakesPerStand: 4 });
  const chargeAh = analysis.wakes.reduce((sum, wake) => sum + wake.chargeAh, 0);
  const asleepS = analysis.stands.reduce((sum, stand) => sum + stand.asleepS, 0);
  const seenS = asleepS + 60 * analysis.wakes.length;
  expect(found?.seenS).toBeCloseTo(seenS, 6);
  expect(found?.wakesA.value).toBeCloseTo((chargeAh * 3600) / seenS, 9);
  expect(found?.sleepA.value).toBeCloseTo(0.018, 9);
  expect(found?.meanA.value).toBeCloseTo((found?.sleepA.value ?? 0) + (found?.wakesA.value ?? 0), 12);
});

it('leaves out what is no wake: too long, or a heavy load that somebody switched on', () => {
  const long = drawOf({ wakesPerStand: 4 }, (analysis) => ({
    ...analysis,
    wakes: analysis.wakes.map((wake, k) => (k === 0 ? { ...wake, seconds: 7200 } : wake)),
  }));
  const winch = drawOf({ wakesPerStand: 4 }, (analysis) => ({
    ...analysis,
    events: [{ kind: 'heavy-load', start: analysis.wakes[0].start + 10, seconds: 30, meanA: 120, voltsMin: 11 }],
  }));
  const all = week({ wakesPerStand: 4 }).wakes.length;
  expect([long?.wakes.length, winch?.wakes.length]).toEqual([all - 1, all - 1]);
});

it('is null where it never slept, and adds nothing where nothing woke it', () => {
  expect(drawOf({ settleS: null, current: false })).toBeNull();
  expect(drawOf({})).toMatchObject({ wakes: [], wakesA: { value: 0 } });
});
