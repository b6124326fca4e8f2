import { expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/current-zero.ts';
import { check as drawCheck } from '../../src/checks/parked-draw.ts';
import { check as standTime } from '../../src/checks/stand-time.ts';
import { session, standing, UNSTATED, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

/** A week asleep at a draw, the voltage rising or falling by so much from stand's begin to its end. */
const asleep = (sleepA: number, riseV: number, changes = {}) => {
  const usual = week({ sleepA });
  const told = withTiles(
    usual,
    (t) => {
      const stand = usual.stands.find((one) => t >= one.start && t <= one.end);
      return { v: 12.6 + (stand ? (riseV * (t - stand.start)) / (stand.end - stand.start) : 0) };
    },
    60,
  );
  return answerOf(check, told, session(changes));
};

/** Half a day asleep at a draw, then a quarter of an hour without voltage in which the sensor reads `offA`. */
function disconnected(sleepA: number, offA: number): Analysis {
  const stand = standing(12, { sleepA });
  const [period] = stand.periods;
  const cut = period.end - 4500;
  const off = {
    kind: 'disconnected' as const,
    start: cut,
    end: cut + 900,
    chargeInAh: 0,
    chargeOutAh: 0,
    evidence: [],
    certainty: 1,
  };
  const periods = [{ ...period, end: cut }, off, { ...period, start: off.end }];
  // The tiles at its ends hold what the modules take before and after.
  const edge = (t: number) => t < off.start + 20 || t > off.end - 20;
  return withTiles({ ...stand, periods }, (t, kind) =>
    kind === 'disconnected' ? { v: 0, i: edge(t) ? -3 : offA } : { v: 12.6, i: -sleepA },
  );
}

test('a draw asleep is clear, and a charge without a rise of voltage is the sensor’s', () => {
  expect(asleep(0.02, -0.05).status).toBe('clear');
  expect(asleep(-0.05, -0.05)).toMatchObject({ status: 'fault', measured: { value: 0.05 } });
});

test('with the voltage rising something may feed the battery', () => {
  expect(asleep(-0.05, 0.2).status).toBe('watch');
});

test('a charge within its uncertainty is no fault', () => {
  expect(asleep(-0.001, -0.05).status).toBe('clear');
});

test('a draw above the limit may be an offset, unless far beyond what is stated', () => {
  expect(asleep(0.054, -0.05)).toMatchObject({ status: 'undecided', reason: 'could-be-offset' });
  expect(asleep(0.3, -0.05).status).toBe('clear');
  expect(asleep(0.3, -0.05, UNSTATED)).toMatchObject({ status: 'undecided', reason: 'could-be-offset' });
});

test('with the battery off the reading must be nought', () => {
  const answer = (sleepA: number, offA: number) => answerOf(check, disconnected(sleepA, offA), session());
  expect(answer(0.02, 0.0005)).toMatchObject({ status: 'clear', variant: 'while-off' });
  expect(answer(0.02, 0.04)).toMatchObject({ status: 'fault', variant: 'while-off' });
  expect(answer(0.02, -0.09)).toMatchObject({ status: 'fault', measured: { unit: 'A' } });
  expect(answer(0.02, -0.09).measured?.value).toBeCloseTo(-0.09, 6);
});

test('a draw that goes on while the voltage is gone may be a voltage lead that came off', () => {
  expect(answerOf(check, disconnected(0.2, -0.2), session())).toMatchObject({
    status: 'undecided',
    reason: 'lead-or-zero',
  });
});

test('never asleep, never off', () => {
  expect(answerOf(check, week({ settleS: null }), session())).toMatchObject({
    status: 'undecided',
    reason: 'never-quiet',
  });
});

test('a zero known to be off decides no draw that would be judged otherwise without it', () => {
  const parkedDraw = (sleepA: number, offA: number) => answerOf(drawCheck, disconnected(sleepA, offA), session());
  expect(parkedDraw(0.08, -0.06)).toMatchObject({ status: 'undecided', reason: 'zero-off' });
  expect(parkedDraw(0.08, -0.06).facts?.correctedA).toBeCloseTo(0.02, 9);
  expect(parkedDraw(0.02, 0.06)).toMatchObject({ status: 'undecided', reason: 'zero-off' });
  expect(parkedDraw(0.4, -0.06).status).toBe('fault');
  expect(parkedDraw(0.08, 0).status).toBe('fault');
});

test('and leaves the time that the vehicle may stand open between both', () => {
  const days = (offA: number) => {
    const { facts } = standTime.answer(disconnected(0.08, offA), session());
    return [Number(facts?.lowS), Number(facts?.highS)];
  };
  const [low, high] = days(0);
  expect(days(-0.06)[1]).toBeGreaterThan(1.5 * high);
  expect(days(-0.06)[0]).toBe(low);
  expect(days(0.06)[0]).toBeLessThan(0.8 * low);
});

test('a little into the battery asleep, within what the sensor leaves open, is no draw and leaves the zero open', () => {
  const finding = check.answer(week({ sleepA: -0.06, sleepUA: 0.05 }), session());
  expect(finding).toMatchObject({ status: 'undecided', reason: 'reads-charging' });
});
