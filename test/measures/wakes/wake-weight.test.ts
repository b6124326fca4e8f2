/** Where the limit of 50 mA is on the mean with its wakes: whose fault it is. */
import { expect, it } from 'vitest';
import { wakeWeight } from '../../../src/measures/wakes/wake-weight.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

/** Each wake of the week takes `ah`; four in each stand. */
function weigh(ah: number, told: Parameters<typeof week>[0] = {}) {
  const analysis = week({ wakesPerStand: 4, ...told });
  return wakeWeight(
    { ...analysis, wakes: analysis.wakes.map((wake) => ({ ...wake, chargeAh: ah, meanA: ah * 60 })) },
    session(),
  );
}

it('wakes that alone draw more than the limit are at fault, and so are those that bring the mean over it', () => {
  expect(weigh(0.4)).toBe('at-fault');
  expect(weigh(0.12, { sleepA: 0.03 })).toBe('at-fault');
  // Some 20 mA by wakes, two fifths of the limit, on 40 mA asleep.
  expect(weigh(0.06, { sleepA: 0.04 })).toBe('at-fault');
});

it('wakes that add little are not, whatever is drawn asleep', () => {
  expect(weigh(0.001)).toBe('little');
  expect(weigh(0.001, { sleepA: 0.2 })).toBe('little');
});

it('much, but within the limit, is worth watching', () => {
  expect(weigh(0.09, { sleepA: 0.002 })).toBe('much');
});

it('a mean that reads into the battery tells nothing, nor does an hour of sleep', () => {
  expect(weigh(0.001, { sleepA: -0.05 })).toBe('reads-charging');
  const analysis = week();
  const short = { ...analysis, stands: analysis.stands.map((stand) => ({ ...stand, asleepS: 300 })) };
  expect(wakeWeight(short, session())).toBeNull();
});
