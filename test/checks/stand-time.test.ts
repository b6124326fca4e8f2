import { expect, test } from 'vitest';
import { check } from '../../src/checks/stand-time.ts';
import { longRunDraw } from '../../src/measures/long-run-draw.ts';
import { session, week } from './analysis-fixture.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));
const DAY = 86_400;

test('a quiet vehicle with a good battery may stand for weeks; the answer is a range', () => {
  const answer = ask({ sleepA: 0.018 });
  expect(answer.status).toBe('clear');
  // About 20 to 30 Ah to lose at 0.43 Ah a day and self-discharge of up to 0.2 Ah a day.
  expect(Number(answer.facts?.lowS) / DAY).toBeGreaterThan(18);
  expect(Number(answer.facts?.highS) / DAY).toBeLessThan(80);
  expect(Number(answer.facts?.highS)).toBeGreaterThan(Number(answer.facts?.lowS));
});

test('a heavy draw leaves days: a fault', () => expect(ask({ sleepA: 0.35 }).status).toBe('fault'));

test('wakes count, settling does not: it comes once', () => {
  const quiet = longRunDraw(week({ sleepA: 0.02, settleS: 1800 }), session());
  const woken = longRunDraw(week({ sleepA: 0.02, settleS: 1800, wakesPerStand: 6 }), session());
  expect(quiet?.value).toBeCloseTo(0.02, 6);
  // 15 stands of 6 wakes of 2 A · 60 s, over the time asleep.
  const asleepS = week({ settleS: 1800 }).stands.reduce((sum, one) => sum + one.asleepS, 0);
  expect(woken?.value).toBeCloseTo(0.02 + (15 * 6 * 120) / asleepS, 6);
  expect(woken?.u).toBeGreaterThan(quiet?.u ?? Number.POSITIVE_INFINITY);
});

test('one large wake says little of how many there will be, but no long stand draws less than sleep does', () => {
  const seen = week({ sleepA: 0.02, wakesPerStand: 1 });
  const once = { ...seen, wakes: seen.wakes.slice(0, 1).map((wake) => ({ ...wake, chargeAh: 12 })) };
  const { facts } = check.answer(once, session());
  expect(Number(facts?.drawUA)).toBeGreaterThan(Number(facts?.drawA));
  // 30 Ah at 20 mA less what the sensor leaves open: 62 days at 20 mA, 83 at 15 mA.
  expect(Number(facts?.highS) / DAY).toBeLessThan(84);
});

test('a vehicle that never slept is judged by what it draws awake', () => {
  const answer = ask({ settleS: null, awakeA: 0.4 });
  expect(answer.facts?.drawA).toBeCloseTo(0.4, 6);
  expect(answer.status).toBe('fault');
});

test('asleep in some stands and awake in others: the days depend on it', () => {
  const answer = ask({ settleS: (k) => (k === 6 ? null : 900), awakeA: 1.5 });
  expect(answer).toMatchObject({ status: 'undecided', reason: 'sometimes-awake' });
  expect(Number(answer.facts?.lowS)).toBeLessThan(2 * DAY);
});

test.each([
  ['no-capacity', {}, { battery: { capacityAh: undefined } }],
  ['no-charge', { restV: 13.2 }, { battery: { chemistry: 'lfp' as const } }],
])('undecided: %s', (reason, story, changes) =>
  expect(ask(story, changes)).toMatchObject({ status: 'undecided', reason }),
);

test('a draw that empties even a full battery in time is a fault, whatever the charge', () => {
  const lfp = { battery: { chemistry: 'lfp' as const } };
  // 70 Ah, of which 30 or half can go; 0.3 A take 7.2 Ah a day.
  const answer = ask({ restV: 13.2, sleepA: 0.3 }, lfp);
  expect(answer).toMatchObject({ status: 'fault', variant: 'charge-unknown', facts: { chargeT: null } });
  expect((answer.facts?.highS as number) / 86_400).toBeLessThan(35 / 7);
  expect(ask({ restV: 13.2, sleepA: 0.01 }, lfp)).toMatchObject({ status: 'undecided', reason: 'no-charge' });
});

test('undecided where a converter fills the battery while parked', () => {
  const changes = { vehicle: { powertrain: 'electric' as const } };
  expect(ask({ chargerAh: 5, starter: false }, changes)).toMatchObject({ status: 'undecided', reason: 'topped-up' });
});

test('so it is where what fills it could not be named', () => {
  const analysis = week({ starter: false, sleepA: 0.3 });
  const last = analysis.periods.length - 1;
  const periods = analysis.periods.map((one, k) =>
    k === last ? { ...one, kind: 'unknown' as const, chargeInAh: 40 } : one,
  );
  const electric = session({ vehicle: { powertrain: 'electric' } });
  expect(check.answer(analysis, electric).reason).not.toBe('topped-up');
  expect(check.answer({ ...analysis, periods }, electric)).toMatchObject({ reason: 'topped-up' });
});

test('undecided where neither sleep nor a long waking stand was seen', () => {
  expect(check.answer({ ...week(), stands: [] }, session())).toMatchObject({
    status: 'undecided',
    reason: 'too-little-sleep',
  });
});

test('a limit inside the range gives no verdict', () => {
  const limits = { standTime: { value: 40 * DAY, source: 'Fleet rule' } };
  expect(ask({}, { limits })).toMatchObject({ status: 'undecided', reason: 'limit-within-uncertainty' });
});

test('a draw that reads as a charge gives no time to stand', () => {
  expect(check.answer(week({ sleepA: -0.26 }), session())).toMatchObject({
    status: 'undecided',
    reason: 'reads-charging',
  });
});

test('a load of hours that at times runs on after a key-off is gone before the days begin', () => {
  const days = (settleS: (k: number) => number) => {
    const { facts } = ask({ settleS, awakeA: 3.2, sleepA: 0.018 });
    return facts as { onceAh: number | null; toLoseLowAh: number; toLoseHighAh: number };
  };
  const quiet = days(() => 480);
  const sticks = days((k) => (k === 5 ? 4 * 3600 : 480));
  expect(quiet.onceAh).toBeNull();
  // 3.2 A for four hours, less the eight minutes that are usual.
  expect(sticks.onceAh).toBeCloseTo(3.2 * (4 - 480 / 3600), 1);
  expect(quiet.toLoseLowAh - sticks.toLoseLowAh).toBeCloseTo(sticks.onceAh ?? 0, 6);
  expect(sticks.toLoseHighAh).toBe(quiet.toLoseHighAh);
});
