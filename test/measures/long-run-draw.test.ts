import { expect, it } from 'vitest';
import { standsCompared } from '../../src/measures/account/stands-compared.ts';
import { asleepDraw, longRunDraw } from '../../src/measures/long-run-draw.ts';
import { session, week } from '../checks/analysis-fixture.ts';

it('asleep it is the mean of all stands, by the time that each slept', () => {
  const analysis = week({ sleepA: (k) => (k % 2 ? 0.03 : 0.01) });
  const weighed = analysis.stands.map((stand) => ({ draw: stand.sleepDrawA?.value ?? 0, s: stand.asleepS }));
  const whole = weighed.reduce((sum, { s }) => sum + s, 0);
  expect(asleepDraw(analysis, session())?.value).toBeCloseTo(
    weighed.reduce((sum, { draw, s }) => sum + draw * s, 0) / whole,
    12,
  );
  expect(asleepDraw(week({ current: false }), session())).toBeNull();
});

it('a long stand draws what its wakes add as well, and no settling, which comes once', () => {
  const [calm, woken] = [longRunDraw(week(), session()), longRunDraw(week({ wakesPerStand: 4 }), session())];
  expect(calm?.value).toBeCloseTo(0.018, 9);
  const analysis = week({ wakesPerStand: 4 });
  const wakesAh = analysis.wakes.reduce((sum, wake) => sum + wake.chargeAh, 0);
  const seconds = analysis.stands.reduce((sum, stand) => sum + stand.asleepS + stand.awakeS, 0);
  expect((woken?.value ?? 0) - 0.018).toBeCloseTo((wakesAh * 3600) / seconds, 9);
  expect(woken?.u).toBeGreaterThan(calm?.u ?? 1);
  expect(longRunDraw(week({ settleS: 3000 }), session())?.value).toBeCloseTo(0.018, 9);
});

it('what comes on each day and stays for hours is in the draw of a long stand', () => {
  const analysis = week();
  const quiet = longRunDraw(week(), session())?.value ?? 0;
  const on = {
    stand: 1,
    start: 1e9,
    end: 1e9 + 16_000,
    meanA: 2.9,
    chargeAh: 12.5,
    seconds: 16_000,
    from: 'within',
    until: 'within',
  };
  standsCompared.given(analysis, { loads: [on, on, on], longest: on, dailyT: 1e9, sleepA: 0.018 } as never);
  const seconds = analysis.stands.reduce((sum, stand) => sum + stand.asleepS + stand.awakeS, 0);
  expect((longRunDraw(analysis, session())?.value ?? 0) - quiet).toBeCloseTo((3 * 12.5 * 3600) / seconds, 9);
});
