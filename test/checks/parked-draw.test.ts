import { expect, test } from 'vitest';
import { check } from '../../src/checks/parked-draw.ts';
import { analysed, log, stretch } from '../analysis/blocks.ts';
import { session, standing, UNSTATED, week } from './analysis-fixture.ts';
import { answerOf } from './words.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('a quiet vehicle is clear, with the weighted mean and its expanded uncertainty', () => {
  const answer = ask({ sleepA: 0.018, sleepUA: 0.001 });
  expect(answer.status).toBe('clear');
  expect(answer.measured?.value).toBeCloseTo(0.018, 9);
  expect(answer.measured?.uncertainty).toBeCloseTo(0.002, 9);
});

test('well over the limit is a fault', () => {
  expect(ask({ sleepA: 0.083 })).toMatchObject({
    status: 'fault',
    limit: { value: 0.05, source: 'common practice, no source' },
  });
});

test.each([0.0485, 0.05, 0.0515])('a limit within value ± U gives no verdict: %d A', (sleepA) => {
  expect(ask({ sleepA })).toMatchObject({ status: 'undecided', reason: 'limit-within-uncertainty' });
});

test('the manifest’s limit and its source replace the default', () => {
  const limits = { parkedDraw: { value: 0.1, source: 'Service information' } };
  expect(ask({ sleepA: 0.083 }, { limits })).toMatchObject({
    status: 'clear',
    limit: { value: 0.1, source: 'Service information' },
  });
});

test('long stands weigh more: the uncertainties add up, since the offset is common', () => {
  // Nights last 14.5 h (the first 14 h), days 9 h.
  const answer = ask({ sleepA: (k) => (k % 2 === 0 ? 0.02 : 0.04), settleS: 0 });
  expect(answer.measured?.value).toBeGreaterThan(0.02);
  expect(answer.measured?.value).toBeLessThan(0.03);
  expect(answer.measured?.uncertainty).toBeCloseTo(0.002, 9);
});

test('one stand beyond the limit, while the mean is within it, is worth watching', () => {
  const answer = ask({ sleepA: (k) => (k === 5 ? 0.09 : 0.018) });
  expect(answer.status).toBe('watch');
  expect(answer.facts).toMatchObject({ worstA: expect.closeTo(0.09, 9) });
});

test('a level that changes for good in mid-log is told, with both levels; scatter and a single stand are not', () => {
  const scatter = (k: number) => 0.0004 * Math.sin(7 * k);
  const rises = ask({ sleepA: (k) => (k < 6 ? 0.018 : 0.041) + scatter(k) }).facts;
  const story = { sleepA: 0.018 };
  expect(rises).toMatchObject({
    beforeA: expect.closeTo(0.018, 3),
    afterA: expect.closeTo(0.041, 3),
    changedT: week(story).stands[6].start,
  });
  expect(ask({ sleepA: (k) => 0.018 + scatter(k) }).facts).toMatchObject({ changedT: null });
  expect(ask({ sleepA: (k) => (k === 5 ? 0.09 : 0.018) + scatter(k) }).facts).toMatchObject({ changedT: null });
});

test('without a stated accuracy the assumed one keeps a near limit open', () => {
  const night = [stretch(8 * 3600, 10, { v: 12.6, i: (_, n) => -0.046 + 0.0002 * (n % 2) })];
  const judged = (told: ReturnType<typeof session>) =>
    check.answer(analysed(log(night), { columns: told.log.columns }), told);
  expect(judged(session())).toMatchObject({ status: 'clear' });
  expect(judged(session(UNSTATED))).toMatchObject({ status: 'undecided', facts: { accuracyStated: false } });
});

test('never asleep, and never below the limit: a fault by the least draw seen', () => {
  const answer = ask({ settleS: null, awakeA: 1.9 });
  expect(answer).toMatchObject({ status: 'fault', variant: 'never-asleep' });
  expect(answer.measured?.value).toBeCloseTo(1.9, 6);
});

test('never asleep without tiles to tell the least draw by is no fault', () => {
  const analysis = week({ settleS: null, awakeA: 1.9 });
  const blind = { ...analysis, tiles: { ...analysis.tiles, n: 0 } };
  expect(check.answer(blind, session())).toMatchObject({ status: 'undecided', reason: 'never-asleep' });
});

test('a short stand that had no time to sleep says nothing', () => {
  expect(check.answer(standing(0.5, { settleS: null }), session())).toMatchObject({
    status: 'undecided',
    reason: 'too-little-sleep',
  });
});

test('a sensor that reads charging while all is asleep cannot measure a draw', () => {
  expect(ask({ sleepA: -0.03 })).toMatchObject({ status: 'undecided', reason: 'reads-charging' });
});

test('a log of nothing but driving has no stand', () => {
  expect(check.answer({ ...week(), stands: [] }, session())).toMatchObject({ status: 'undecided', reason: 'no-stand' });
});

test('clear is for the sleep alone where a stand never reached it', () => {
  const usual = week();
  const awake = { asleepS: 0, sleepDrawA: null, meanDrawA: { value: 1.2, u: 0.01 } };
  const stands = usual.stands.map((stand, k) => (k === 3 ? { ...stand, ...awake } : stand));
  expect(check.answer(usual, session())).toMatchObject({ status: 'clear', facts: { usedMore: false } });
  expect(check.answer({ ...usual, stands }, session())).toMatchObject({ status: 'clear', facts: { usedMore: true } });
});

/** A week in whose sleeps one number is read, which a draw up to `unseenA` off it would show too. */
function oneNumber(sleepA: number, unseenA: number) {
  const analysis = week({ sleepA, sleepUA: unseenA / Math.sqrt(3) });
  return answerOf(check, { ...analysis, stands: analysis.stands.map((stand) => ({ ...stand, unseenA })) }, session());
}

test('one number read all through sleep says nothing of a limit that a draw could reach unseen', () => {
  const answer = oneNumber(0, 0.2);
  expect(answer).toMatchObject({ status: 'undecided', reason: 'reads-one-number' });
  expect(answer.facts?.unseenA).toBeCloseTo(0.2, 9);
  expect(oneNumber(0, 0.01).status).toBe('clear');
  expect(oneNumber(0.2, 0.01).status).toBe('fault');
});

test('where the sensor leaves more open than its one number, that is the reason', () => {
  const analysis = week({ sleepA: 0.049, sleepUA: 0.005 });
  const stands = analysis.stands.map((stand) => ({ ...stand, unseenA: 0.001 }));
  expect(check.answer({ ...analysis, stands }, session())).toMatchObject({ reason: 'limit-within-uncertainty' });
});
