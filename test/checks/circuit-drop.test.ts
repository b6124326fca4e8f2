import { expect, test } from 'vitest';
import { check } from '../../src/checks/circuit-drop.ts';
import type { Session } from '../../src/manifest/session.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { wave, withCranks, withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

const channel = (label: string, measures: 'drop' | 'supply') => ({ name: label, label, unit: 'V', measures }) as const;
const withChannels = (channels: Session['log']['channels'], changes = {}): Session => {
  const usual = session(changes);
  return { ...usual, log: { ...usual.log, channels } };
};
const ground = withChannels([channel('Engine ground', 'drop')]);

/** Starts of 600 A at first and 200 A after it, across a path of so many mΩ; the channel reads `zeroV` at rest. */
function cranked(milliohm: number, zeroV = 0.004) {
  const usual = week();
  const cranks = withCranks(usual, (k) => ({ wave: wave(usual.cranks[k].at, (s) => (s < 0.3 ? -600 : -200)) }));
  return withTiles(
    cranks,
    (_, kind) =>
      kind === 'cranking'
        ? { i: -300, iMin: -600, ch: [zeroV + 0.6 * milliohm] }
        : { i: kind === 'driving' ? 4 : -0.02, ch: [zeroV] },
    30,
  );
}

test('judged at the starter’s steady current: 1 mΩ × 200 A is 0.2 V', () => {
  const finding = answerOf(check, cranked(1), ground);
  expect(finding.measured?.value).toBeCloseTo(0.2, 6);
  expect(finding.limit?.value).toBe(0.4);
});

test('0.1 V is in order, 0.3 V worth watching, 0.6 V a fault', () => {
  expect(answerOf(check, cranked(0.5), ground).status).toBe('clear');
  expect(answerOf(check, cranked(1.5), ground).status).toBe('watch');
  expect(answerOf(check, cranked(3), ground)).toMatchObject({ status: 'fault', facts: { channel: 'Engine ground' } });
});

test('which way round the channel is clipped on does not matter', () => {
  expect(answerOf(check, cranked(-3), ground)).toMatchObject({ status: 'fault' });
});

test('the channel’s own zero is no drop', () => {
  expect(answerOf(check, cranked(0.5, 0.15), ground).measured?.value).toBeCloseTo(0.1, 6);
});

test('24 V may lose twice as much', () => {
  const truck = withChannels([channel('Engine ground', 'drop')], { vehicle: { systemV: 24 } });
  expect(answerOf(check, cranked(3), truck)).toMatchObject({ status: 'watch', limit: { value: 0.8 } });
});

test('too near the limit gives no verdict', () => {
  expect(answerOf(check, cranked(2), ground)).toMatchObject({
    status: 'undecided',
    reason: 'limit-within-uncertainty',
  });
});

test('a supply channel is no drop, and without a load there is none', () => {
  const supply = withChannels([channel('Radio', 'supply')]);
  expect(answerOf(check, cranked(3), supply)).toMatchObject({ status: 'undecided', reason: 'no-drop-channel' });
  const still = withTiles(standing(10), () => ({ i: -0.02, ch: [0] }));
  expect(answerOf(check, still, ground)).toMatchObject({ status: 'undecided', reason: 'no-load' });
});

test('a small load that already loses too much is a fault, one that loses little says nothing', () => {
  const [period] = standing(10).periods;
  const loaded = (volts: number) =>
    withTiles({ ...standing(10), periods: [{ ...period, kind: 'settling' }] }, () => ({ i: -15, ch: [volts] }));
  expect(answerOf(check, loaded(1), ground)).toMatchObject({ status: 'fault', facts: { cranking: false } });
  expect(answerOf(check, loaded(0.02), ground)).toMatchObject({ status: 'undecided', reason: 'no-load' });
});

test('a current that ran out of the sensor’s range is none to measure by', () => {
  // Half of what flowed: the path would seem twice as bad.
  const ranged = withChannels([channel('Engine ground', 'drop')], {
    columns: { current: { name: 'a', unit: 'A', positive: 'charging', rangeA: 600 } },
  });
  expect(answerOf(check, cranked(1), ranged)).toMatchObject({ status: 'undecided', reason: 'no-load' });
});
