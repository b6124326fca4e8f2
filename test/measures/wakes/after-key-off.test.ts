import { expect, test } from 'vitest';
import type { Analysis, Wake } from '../../../src/analysis/model.ts';
import { longRunDraw } from '../../../src/measures/long-run-draw.ts';
import { afterKeyOff } from '../../../src/measures/wakes/after-key-off.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

const HOUR = 3600;
const quiet = week();

/** A leak test of 45 min at 1 A as a vehicle maker's bulletin of 2010 describes it (quoted, second-hand), in each stand at the times told. */
function tested(lagsOf: (length: number, k: number) => readonly number[], amps = 1): Analysis {
  const wakes = quiet.stands.flatMap((stand, k): Wake[] =>
    lagsOf(stand.end - stand.start, k).map((lagS) => ({
      start: stand.start + lagS,
      seconds: 2700,
      peakA: amps,
      meanA: amps,
      chargeAh: (amps * 2700) / 3600,
      stand: k,
      channels: [],
    })),
  );
  return { ...quiet, wakes };
}

const once = (lengthS: number) => (lengthS > 5 * HOUR + 3600 ? [5 * HOUR] : []);

test('a wake five hours after each key-off, once, belongs to the key-off', () => {
  const found = afterKeyOff(tested(once), session());
  expect(found).toMatchObject({ lagS: 5 * HOUR, seconds: 2700 });
  expect(found?.chargeAh).toBeCloseTo(0.75, 6);
});

test('one that comes again in the same stand, at other times, or not after each key-off, is a wake as others are', () => {
  expect(
    afterKeyOff(
      tested((s) => (s > 11 * HOUR ? [5 * HOUR, 10 * HOUR] : once(s))),
      session(),
    ),
  ).toBeNull();
  expect(
    afterKeyOff(
      tested((s, k) => (s > 8 * HOUR ? [(3 + (k % 4)) * HOUR] : [])),
      session(),
    ),
  ).toBeNull();
  expect(
    afterKeyOff(
      tested((s, k) => (k % 3 === 0 ? once(s) : [])),
      session(),
    ),
  ).toBeNull();
});

test('one that takes more than a day of parked draw is not let off', () => {
  expect(afterKeyOff(tested(once, 3), session())).toBeNull();
});

test('a long stand draws what it draws asleep, not what a key-off brings once', () => {
  const withTest = longRunDraw(tested(once), session())?.value ?? 0;
  expect(withTest).toBeCloseTo(longRunDraw(quiet, session())?.value ?? 0, 6);
  const again = tested((s) => (s > 11 * HOUR ? [5 * HOUR, 10 * HOUR] : once(s)));
  expect(longRunDraw(again, session())?.value).toBeGreaterThan(withTest + 0.02);
});
