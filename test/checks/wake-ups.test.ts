import { expect, test } from 'vitest';
import { check } from '../../src/checks/wake-ups.ts';
import { wakePatterns } from '../../src/measures/wakes/patterns.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { known, type Wakes, wakeful } from './wakeful.ts';

const ask = (told: Partial<Wakes> = {}) =>
  check.answer(wakeful({ everyS: 2220, seconds: 150, amps: 2.4, ...told }), session());

test('wakes that alone draw more than the limit are a fault, judged by the mean of draw and wakes', () => {
  const answer = ask();
  expect(answer).toMatchObject({ status: 'fault', limit: { value: 0.05 }, facts: { periodS: 2220 } });
  // 18 mA asleep and 2.4 A for 150 s of each 2220 s; an hour of each stand is without wakes.
  expect(answer.measured?.value).toBeGreaterThan(0.018 + 0.85 * 2.4 * (150 / 2220));
  expect(answer.measured?.value).toBeLessThan(0.018 + 2.4 * (150 / 2220));
});

test('they are a fault too where they bring a draw within the limit over it', () => {
  const answer = ask({ everyS: 7200, seconds: 60 });
  expect(answer.facts?.wakesA).toBeLessThan(0.025);
  expect(answer.status).toBe('clear');
  expect(ask({ everyS: 3600, seconds: 60, story: { sleepA: 0.04 } }).status).toBe('fault');
});

test('what comes once a day at one time may have been set to', () => {
  const analysis = wakeful({ everyS: 40_000, seconds: 900, amps: 3 });
  const [pattern] = wakePatterns(analysis, session());
  if (!pattern) throw new Error('a pattern was given');
  const timeOf = (k: number) => (analysis.wakes[k]?.start ?? 0) % 86_400;
  expect(check.answer(analysis, session()).facts).toMatchObject({ daily: false });
  const parts = pattern.parts.filter((k) => Math.abs(timeOf(k) - timeOf(0)) < 120);
  expect(parts.length).toBeGreaterThan(3);
  expect(parts.length).toBeLessThan(pattern.parts.length);
  known(analysis, { patterns: [{ ...pattern, parts }] });
  expect(check.answer(analysis, session()).facts).toMatchObject({ daily: true });
});

test('what runs for a part of each short period may be a fridge by its thermostat; a module that reports is none', () => {
  const fridge = ask({ everyS: 2200, seconds: 600, amps: 3.6 });
  expect(fridge).toMatchObject({ status: 'fault', variant: 'cycles', facts: { cycles: true } });
  expect(ask({ everyS: 3600, seconds: 60, amps: 3.6 }).facts).toMatchObject({ cycles: false });
  expect(ask({ everyS: 40_000, seconds: 6000, amps: 3 }).facts).toMatchObject({ cycles: false });
});

test('a draw over the limit with cheap wakes is not theirs to answer for', () => {
  const answer = ask({ everyS: 7200, seconds: 15, story: { sleepA: 0.09 } });
  expect(answer.status).toBe('clear');
  expect(answer.measured?.value).toBeLessThan(0.01);
});

test('a draw over the limit and wakes of the same order: worth watching, the draw comes first', () => {
  expect(ask({ everyS: 3600, seconds: 60, story: { sleepA: 0.3 } }).status).toBe('watch');
});

test('a few costly wakes without a clock leave the mean open', () => {
  const rare = { everyS: 40_000, seconds: 900, amps: 3, byClock: false, story: { days: 2 } };
  expect(ask(rare)).toMatchObject({ status: 'undecided', reason: 'few-wakes' });
  expect(ask({ ...rare, byClock: true }).status).toBe('fault');
});

test('a wake of hours is not counted here: it is asked about as held awake', () => {
  const answer = ask({ everyS: 40_000, seconds: 9000, amps: 2 });
  expect(answer).toMatchObject({ status: 'clear', variant: 'only-long', facts: { wakes: 0 } });
});

test('no wake in a week of sleep is clear, none in three hours says nothing', () => {
  expect(check.answer(week(), session())).toMatchObject({ status: 'clear', variant: 'none' });
  expect(check.answer(standing(3), session())).toMatchObject({ status: 'undecided', reason: 'too-little-sleep' });
});

test('a vehicle that never slept cannot wake', () => {
  expect(check.answer(week({ settleS: null, awakeA: 1.5 }), session())).toMatchObject({
    status: 'undecided',
    reason: 'never-asleep',
  });
});

test('a sensor that reads charging while parked cannot measure the mean', () => {
  expect(ask({ everyS: 20_000, seconds: 30, amps: 1, story: { sleepA: -0.03 } })).toMatchObject({
    status: 'undecided',
    reason: 'reads-charging',
  });
});

test('wakes shorter than the step of the rows: their length is a guess, the same for all that keep step with them', () => {
  const slow = (told: Partial<Wakes> & { jitterS: number }) => {
    const changes = { stepsS: { driving: 1, parked: 1, awake: 60 } };
    const analysis = wakeful({ everyS: 1200, seconds: 120, amps: 0.6, changes, ...told });
    const patterns = wakePatterns(analysis, session()).map((pattern) => ({ ...pattern, jitterS: told.jitterS }));
    return known(analysis, { patterns });
  };
  // One row of each wake, 60 s of draw: anything from none to 120 s, 24 s in the standard deviation.
  const inStep = check.answer(slow({ jitterS: 0 }), session());
  const share = Number(inStep.facts?.wakesUA) / Number(inStep.facts?.wakesA);
  expect(share).toBeCloseTo(2 / Math.sqrt(6), 2);
  expect(inStep).toMatchObject({ status: 'undecided', reason: 'short-wakes' });
  expect(check.answer(slow({ jitterS: 30 }), session()).status).toBe('fault');
});
