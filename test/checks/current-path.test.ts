import { expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/current-path.ts';
import { analysed, log, stretch } from '../analysis/blocks.ts';
import { asleep, drive } from '../analysis/vehicle.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { withCranks, withTiles } from './tile-story.ts';
import { answerOf } from './words.ts';

/** A battery of 5 mΩ whose starter takes 300 A; the sensor sees this share of starter and other loads. */
interface Seen {
  readonly starter: number;
  readonly loads: number;
  /** Loads of 12 A, one minute long, in each stand. */
  readonly count?: number;
}

function driven({ starter, loads, count = 0 }: Seen): Analysis {
  const usual = week();
  const cranked = withCranks(usual, () => ({
    voltsBefore: 12.6,
    voltsCranking: { value: 11.1, u: 0.01 },
    resistanceOhm: starter > 0.2 ? { value: 0.005 / starter, u: 0.0001 } : null,
  }));
  return withTiles(cranked, (t, kind) => moment(usual, t, kind, { starter, loads, count }), 2);
}

function moment(usual: Analysis, t: number, kind: string, { starter, loads, count }: Required<Seen>) {
  if (kind === 'driving') return { v: 14.2, i: 4 };
  if (kind === 'cranking') return { v: 11.1, i: -300 * starter };
  const stand = usual.stands.find((one) => t >= one.start && t <= one.end);
  const on = stand && Array.from({ length: count }, (_, n) => stand.start + 2000 + n * 600);
  const amps = on?.some((from) => t >= from && t < from + 60) ? 12 : 0.02;
  return { v: 12.6 - 0.005 * amps, i: -(amps > 1 ? amps * loads : amps) };
}

const few = (analysis: Analysis, stands: number): Analysis => {
  const end = analysis.stands[stands - 1].end;
  const periods = analysis.periods.filter((one) => one.end <= end);
  return { ...analysis, end, periods, drives: [], cranks: [] };
};

test('starts and loads show in both: clear', () => {
  expect(answerOf(check, driven({ starter: 1, loads: 1, count: 2 }), session())).toMatchObject({
    status: 'clear',
    facts: { starts: 14, unseenStarts: 0, unseenSteps: 0 },
  });
});

test('a starter that goes round the sensor is a fault', () => {
  const finding = answerOf(check, driven({ starter: 0.01, loads: 1 }), session());
  expect(finding).toMatchObject({ status: 'fault', facts: { starts: 14, unseenStarts: 14 } });
  expect(finding.facts?.firstDipV).toBeCloseTo(1.5, 3);
});

test('a start beyond the sensor’s range shows no path: its current was there, and more', () => {
  const analysis = driven({ starter: 0.05, loads: 1 });
  expect(answerOf(check, analysis, session()).status).toBe('fault');
  const current = { name: 'a', unit: 'A', positive: 'charging', rangeA: 15 } as const;
  expect(answerOf(check, analysis, session({ columns: { current } }))).toMatchObject({ facts: { unseenStarts: 0 } });
});

test('without a crank to measure the starts tell of a share that goes round the sensor', () => {
  // 45 A where 300 A flowed: 33 mΩ, which a dying battery could have, but no starter draws so little.
  expect(answerOf(check, driven({ starter: 0.15, loads: 1 }), session())).toMatchObject({
    status: 'watch',
    variant: 'starter',
    facts: { unseenStarts: 0, cranks: 14 },
  });
});

test('loads that go round the sensor are a fault too', () => {
  const finding = answerOf(check, driven({ starter: 1, loads: 0, count: 2 }), session());
  expect(finding).toMatchObject({ status: 'fault', variant: 'loads', facts: { unseenStarts: 0 } });
});

test('some of the loads: worth watching', () => {
  const usual = week();
  const told = withTiles(
    usual,
    (t, kind) => moment(usual, t, kind, { starter: 1, loads: t < usual.stands[4].end ? 0 : 1, count: 2 }),
    2,
  );
  expect(answerOf(check, told, session())).toMatchObject({ status: 'watch', facts: { unseenStarts: 0 } });
});

test('load steps against cranks tell a starter that is seen in part', () => {
  const half = { ...driven({ starter: 1, loads: 1, count: 2 }) };
  const cranks = withCranks(half, () => ({ resistanceOhm: { value: 0.03, u: 0.001 } }));
  expect(
    answerOf(check, cranks, session({ battery: { capacityAh: undefined, coldCrankingA: undefined } })),
  ).toMatchObject({
    status: 'watch',
    variant: 'in-part',
  });
});

test('a high resistance beside a starter that draws too little is worth watching', () => {
  // 1.5 V over 5 mΩ / 0.25 are 75 A, where a battery of 70 Ah goes with 84 A and more.
  expect(answerOf(check, driven({ starter: 0.25, loads: 1 }), session())).toMatchObject({
    status: 'watch',
    variant: 'starter',
  });
});

test('a resistance that no battery is so low in, or so high in', () => {
  const cranks = (ohm: number, volts = 8) =>
    withCranks(driven({ starter: 1, loads: 1 }), () => ({
      resistanceOhm: { value: ohm, u: 0.0001 },
      voltsCranking: { value: volts, u: 0.01 },
    }));
  expect(answerOf(check, cranks(0.0005), session())).toMatchObject({ status: 'watch', variant: 'too-low' });
  expect(answerOf(check, cranks(0.03), session())).toMatchObject({ status: 'undecided', reason: 'resistance-high' });
});

test('nothing moved: nothing can be told', () => {
  const still = withTiles(standing(10), () => ({ v: 12.6, i: -0.02 }));
  expect(answerOf(check, still, session())).toMatchObject({ status: 'undecided', reason: 'too-little-seen' });
});

test('two loads without current are too few to tell a bypass from a jolt', () => {
  expect(answerOf(check, few(driven({ starter: 1, loads: 0, count: 1 }), 1), session())).toMatchObject({
    status: 'undecided',
    reason: 'few-unseen',
  });
});

test('a voltage that falls by itself after driving is no load', () => {
  const usual = week();
  const relaxing = withTiles(
    usual,
    (t, kind) => {
      const stand = usual.stands.find((one) => t >= one.start && t <= one.end);
      if (kind === 'driving') return { v: 14.2, i: 4 };
      return { v: 12.6 + (stand ? 1.2 * Math.exp(-(t - stand.start) / 15) : 0), i: kind === 'cranking' ? -300 : -0.02 };
    },
    2,
  );
  expect(answerOf(check, relaxing, session()).facts).toMatchObject({ unseenSteps: 0 });
});

test('single wrong readings of voltage are no loads', () => {
  const v = (_: number, n: number) => (n % 997 === 503 ? 0 : 12.5 + 0.002 * Math.sin(7 * n));
  const night = stretch(4 * 3600, 0.2, { v, i: (_, n) => -0.02 + 0.001 * Math.cos(5 * n) });
  expect(answerOf(check, analysed(log([night])), session()).reason).toBe('too-little-seen');
});

test('nor are those of current, which would make the loads look like none of the starter’s battery', () => {
  const i = (_: number, n: number) => (n % 997 === 503 ? -300 : -0.02 + 0.001 * Math.cos(5 * n));
  const night = stretch(4 * 3600, 0.2, { v: (_, n) => 12.5 + 0.002 * Math.sin(7 * n), i });
  const day = log([asleep(1800, 1), ...drive(600, 0.05), night]);
  expect(answerOf(check, analysed(day), session()).status).toBe('clear');
});

test('what shows too little of a starter may show too little of all: no figure of current clears anything', () => {
  const finding = { check: 'current-path', status: 'watch', cautions: [], facts: {} } as const;
  expect(check.doubts?.({ ...finding, variant: 'starter' })).toBe('current');
  expect(check.doubts?.({ ...finding, variant: 'too-low' })).toBeNull();
  expect(check.doubts?.(finding)).toBeNull();
});

test('of a battery that is nearly empty neither a high resistance nor a small draw says where the current goes', () => {
  const analysis = driven({ starter: 0.25, loads: 1 });
  const empty = (volts: number) => ({
    ...analysis,
    stands: analysis.stands.map((stand) => ({
      ...stand,
      rest: stand.rest && { ...stand.rest, sinceChargeS: 12 * 3600, volts: { value: volts, u: 0.01, k: 2 } },
    })),
  });
  expect(answerOf(check, empty(12.0), session())).toMatchObject({ status: 'undecided', reason: 'low-charge' });
  expect(answerOf(check, empty(12.6), session())).toMatchObject({ status: 'watch', variant: 'starter' });
});
