import { expect, test } from 'vitest';
import type { Analysis, Period, Wake } from '../../../src/analysis/model.ts';
import { makeRandom } from '../../../src/demo/random.ts';
import { nightsU } from '../../../src/measures/wakes/wake-charge-u.ts';
import { wakeDraw } from '../../../src/measures/wakes/wake-draw.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

const HOUR = 3600;
const DAY = 24 * HOUR;
const T0 = Date.UTC(2026, 2, 2) / 1000;

/** Days parked and asleep, with wakes put in at s from the begin. */
function parkedFor(days: number, wakes: readonly { at: number; chargeAh: number }[]): Analysis {
  const [usual] = week().stands;
  const end = T0 + days * DAY;
  const seconds = 1800;
  const list = wakes.map(({ at, chargeAh }): Wake => {
    const meanA = (chargeAh * HOUR) / seconds;
    return { start: T0 + at, seconds, peakA: meanA, meanA, chargeAh, stand: 0, channels: [] };
  });
  const periods: Period[] = [
    { kind: 'asleep', start: T0, end, chargeInAh: 0, chargeOutAh: 0.4 * days, evidence: [], certainty: 1 },
  ];
  const asleepS = days * DAY - list.length * seconds;
  const stand = {
    ...usual,
    start: T0,
    end,
    asleepS,
    awakeS: list.length * seconds,
    sleepDrawA: { value: 0.016, u: 1e-4 },
  };
  return { ...week(), start: T0, end, periods, stands: [stand], wakes: list };
}

test('an upload of 2 Ah at the same hour of four nights of four is no chance event', () => {
  const analysis = parkedFor(
    4,
    [26, 4, 11, 19].map((h, k) => ({ at: k * DAY + 8 * HOUR + 60 * h, chargeAh: 2 })),
  );
  const draw = wakeDraw(analysis, session());
  expect(draw?.wakesA.value).toBeCloseTo(2 / 24, 2);
  expect(2 * (draw?.wakesA.u ?? 1)).toBeLessThan(0.2 * (2 / 24));
});

test('three nights are no rule, and nights that differ are uncertain by how they differ', () => {
  const at = (night: number) => night * DAY + 8 * HOUR;
  expect(
    nightsU(
      parkedFor(
        3,
        [0, 1, 2].map((k) => ({ at: at(k), chargeAh: 2 })),
      ),
      () => true,
    ),
  ).toBeNull();
  const every = [2, 0, 2, 0, 2].map((chargeAh, k) => ({ at: at(k), chargeAh }));
  // Standard deviation 1.1 Ah a night: 2.4 Ah for five, and by two fifths more for so few.
  expect(nightsU(parkedFor(5, every), () => true)).toBeCloseTo(1.39 * Math.sqrt(5) * 1.095, 1);
});

test('of wakes that come by chance, twice the uncertainty covers the true rate in about 95 % of logs', () => {
  const random = makeRandom(77);
  const days = 6;
  const aDay = 4;
  let covered = 0;
  const logs = 400;
  for (let k = 0; k < logs; k++) {
    const wakes: { at: number; chargeAh: number }[] = [];
    for (let t = 0; t < days * DAY; t += 60)
      if (random.uniform() < (aDay * 60) / DAY) wakes.push({ at: t, chargeAh: 0.5 });
    const U = 2 * (nightsU(parkedFor(days, wakes), () => true) ?? 0);
    if (Math.abs(0.5 * wakes.length - 0.5 * aDay * days) <= U) covered++;
  }
  expect(covered / logs).toBeGreaterThan(0.92);
  expect(covered / logs).toBeLessThan(0.99);
});
