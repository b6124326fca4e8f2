/** A load that is there at some stands and not at others is the main finding, and no check says the contrary. */
import { describe, expect, test } from 'vitest';
import { runChecks } from '../../src/checks/run.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import { movement } from '../../src/measures/movement.ts';
import { headlines } from '../../src/report/summary.ts';
import { analysed, DAY, HOUR, keyOff, keyOn, load, MIN, mornings } from './load-stories.ts';

function told(scenario: Scenario) {
  const { analysis, session } = analysed(scenario);
  const findings = runChecks(analysis, session).map((finding) => ({ ...finding, follows: finding.follows ?? null }));
  const of = (check: string) => findings.find((finding) => finding.check === check);
  return { analysis, session, of, main: headlines(findings).findings[0], movement: movement(analysis, session) };
}

const sticking = (days: readonly number[]) => days.map((day) => load(keyOff(day), keyOn(day + 1), 0.449));

test('two of seven stands at 465 mA, the others at 16 mA: that is what is said first', () => {
  const { of, main } = told(mornings(7, { extra: sticking([2, 4]) }));
  expect(main).toMatchObject({ check: 'held-awake', status: 'fault', variant: 'load' });
  const facts = of('held-awake')?.facts;
  expect(facts).toMatchObject({ standsWith: 2, fromKeyOff: true, toKeyOn: true });
  expect(facts?.togetherA).toBeCloseTo(0.465, 2);
  expect(facts?.sleepA).toBeCloseTo(0.016, 3);
  expect(of('sleep-time')).toMatchObject({ status: 'fault', follows: 'held-awake' });
  expect(of('parked-draw')?.status).toBe('clear');
  expect(of('stand-time')?.status).not.toBe('clear');
});

test('all stands but one', () => {
  const { main } = told(mornings(6, { extra: sticking([1, 2, 3, 5]) }));
  expect(main).toMatchObject({ check: 'held-awake', variant: 'load' });
});

test('a load that begins in mid-stand and stays to key-on takes the days it may stand', () => {
  const weekend = mornings(5, {
    drives: mornings(5, {}).drives.filter((_, k) => k < 2 || k > 3),
    extra: [load(keyOff(1) + 5 * HOUR, keyOn(4), 0.065)],
    battery: { chemistry: 'flooded', capacityAh: 74, charge: 0.75 },
  });
  const { of } = told(weekend);
  expect(of('held-awake')).toMatchObject({
    status: 'fault',
    variant: 'load',
    facts: { standsWith: 1, fromKeyOff: false },
  });
  const standing = of('stand-time');
  expect(Number(standing?.facts?.awakeA)).toBeCloseTo(0.081, 2);
  expect(standing?.status).not.toBe('clear');
});

test('five days at 380 mA from before the log, until something cuts it off', () => {
  const cut = mornings(7, { drives: [], wakes: [], extra: [load(0, 5 * DAY, 0.364)] });
  const { of, main } = told(cut);
  expect(main).toMatchObject({ check: 'held-awake', variant: 'load' });
  expect(Number(of('held-awake')?.facts?.togetherA)).toBeCloseTo(0.38, 2);
  expect(Math.abs(Number(of('held-awake')?.measured?.value) / (5 * DAY) - 1)).toBeLessThan(0.02);
});

describe('a draw that moves', () => {
  const steps = (days: number, amps: (t: number) => number) =>
    Array.from({ length: days * 24 }, (_, k) => load(k * HOUR, (k + 1) * HOUR, amps((k + 0.5) * HOUR)));
  const still = { drives: [], wakes: [], seconds: 5 * DAY };

  test('creeps from 18 to 148 mA over five days', () => {
    const { movement: found } = told(
      mornings(5, { ...still, sleepA: 0.018, extra: steps(5, (t) => (0.13 * t) / (5 * DAY)) }),
    );
    expect(found.creep?.fromA).toBeCloseTo(0.018, 2);
    expect(found.creep?.toA).toBeCloseTo(0.148, 2);
  });

  test('goes with the warmth of the day', () => {
    // The climate of the simulation is warmest at 15:00 UTC, nine hours after the log begins.
    const warm = (t: number) => 0.054 * (1 + Math.cos((2 * Math.PI * (t - 9 * HOUR)) / DAY));
    const { movement: found } = told(mornings(5, { ...still, sleepA: 0.018, extra: steps(5, warm) }));
    expect(found.creep).toBeNull();
    expect(found.warmth?.warmA).toBeGreaterThan(0.09);
    expect(found.warmth?.coldA).toBeLessThan(0.04);
  });

  test('is not seen in one that comes on at once and stays, nor in a sound vehicle', () => {
    const step = told(mornings(5, { ...still, extra: [load(2.4 * DAY, 5 * DAY, 0.1)] }));
    expect(step.movement).toEqual({ creep: null, warmth: null });
    expect(told(mornings(4, {})).movement).toEqual({ creep: null, warmth: null });
  });
});

test('a vehicle that settles and wakes as it should, and one late shutdown, have no load that stays', () => {
  const sound = told(mornings(5, {}));
  expect(sound.of('held-awake')?.status).toBe('clear');
  const late = told(mornings(5, { extra: [load(keyOff(2), keyOff(2) + 100 * MIN, 0.4)] }));
  expect(late.of('held-awake')?.variant).not.toBe('load');
});
