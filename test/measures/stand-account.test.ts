/** Simulated vehicles with a load that stays: every ampere-hour of a stand has its place, and the load is found where it was. */
import { describe, expect, test } from 'vitest';
import { createAnalyser } from '../../src/analysis/analyse.ts';
import { drive, GOOD_SENSOR, QUICK_SETTLING } from '../../src/demo/parts.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import { standAccounts } from '../../src/measures/account/stand-account.ts';
import { cleanLog, sessionFor } from '../simulated/session-for.ts';

const HOUR = 3600;
const DAY = 24 * HOUR;
const MIN = 60;
/** Key-offs, from the begin of the log: a short trip each morning. */
const KEY_OFF = (day: number) => day * DAY + 2.5 * HOUR;

function scenario(days: number, changes: Partial<Scenario>): Scenario {
  return {
    stream: 815,
    start: Date.UTC(2026, 2, 2, 6) / 1000,
    seconds: days * DAY,
    powertrain: 'combustion',
    systemV: 12,
    battery: { chemistry: 'flooded', capacityAh: 74, charge: 0.9 },
    climate: { meanC: 11, swingC: 5, engineC: 20 },
    sleepA: 0.016,
    settling: QUICK_SETTLING,
    drives: Array.from({ length: days }, (_, k) => drive(k * DAY + 2 * HOUR, 30 * MIN)),
    source: { volts: 14.3, maxA: 110, perC: -0.01, rippleV: 0.03, rippleA: 0.8, stepsA: 8 },
    wakes: [{ timing: { everyS: 3 * HOUR, jitterS: 60 }, stages: [{ amps: 1.5, seconds: 90 }] }],
    channels: [],
    sensor: GOOD_SENSOR,
    logging: { stepS: 5 },
    ...changes,
  };
}

function accountsOf(told: Scenario) {
  const session = sessionFor(told);
  const analyser = createAnalyser(session);
  for (const block of simulate(told).samples) analyser.push(block);
  const analysis = analyser.finish(cleanLog([]));
  return { analysis, accounts: standAccounts(analysis, session), t0: told.start };
}

const load = (from: number, to: number, amps: number) => ({ from, to, amps, awake: true });

describe('a load that stays', () => {
  const near = (a: number, b: number, share: number) => expect(Math.abs(a / b - 1)).toBeLessThan(share);

  test('from key-off to key-on in two of seven stands is told there, with its draw', () => {
    const extra = [2, 4].map((day) => load(KEY_OFF(day), (day + 1) * DAY + 2 * HOUR, 0.449));
    const { accounts, t0 } = accountsOf(scenario(7, { extra }));
    const held = accounts.flatMap((account) => account.held);
    expect(held).toHaveLength(2);
    for (const [k, day] of [2, 4].entries()) {
      const one = held[k];
      expect(Math.abs((one?.start ?? 0) - t0 - KEY_OFF(day))).toBeLessThan(5 * MIN);
      near(one?.meanA ?? 0, 0.449, 0.05);
      near(one?.chargeAh ?? 0, 0.449 * 23.5, 0.05);
      expect(one).toMatchObject({ from: 'key-off', until: 'key-on' });
    }
  });

  test('from mid-stand to key-on, and from key-off until something cut it off', () => {
    const from = KEY_OFF(1) + 8 * HOUR;
    const extra = [load(from, 2 * DAY + 2 * HOUR, 0.2), load(KEY_OFF(3), KEY_OFF(3) + 15 * HOUR, 0.38)];
    const { accounts, t0 } = accountsOf(scenario(5, { extra }));
    const [late, early, ...others] = accounts.flatMap((account) => account.held);
    expect(others).toEqual([]);
    expect(Math.abs((late?.start ?? 0) - t0 - from)).toBeLessThan(5 * MIN);
    near(late?.meanA ?? 0, 0.2, 0.06);
    expect(late).toMatchObject({ from: 'within', until: 'key-on' });
    expect(Math.abs((early?.end ?? 0) - t0 - KEY_OFF(3) - 15 * HOUR)).toBeLessThan(10 * MIN);
    near(early?.meanA ?? 0, 0.38, 0.05);
    expect(early).toMatchObject({ from: 'key-off', until: 'within' });
  });

  test('in all stands but one is told in all of those', () => {
    const extra = [1, 2, 3, 5].map((day) => load(KEY_OFF(day), (day + 1) * DAY + 2 * HOUR, 0.449));
    const { accounts } = accountsOf(scenario(6, { extra }));
    expect(accounts.map(({ held }) => held.length)).toEqual([0, 0, 1, 1, 1, 0, 1]);
  });

  test('is none in a vehicle that settles and wakes as it should', () => {
    const { accounts } = accountsOf(scenario(4, {}));
    expect(accounts.flatMap(({ held }) => held)).toEqual([]);
  });
});

test('the parts of each stand add up to its charge, and wakes and settlings have theirs', () => {
  const extra = [load(KEY_OFF(2), 3 * DAY, 0.449)];
  const { analysis, accounts } = accountsOf(scenario(5, { extra }));
  analysis.stands.forEach((stand, k) => {
    const account = accounts[k];
    if (!account) throw new Error('no account');
    const { settlingAh, asleepAh, wakesAh, heldAh, unknownAh, fedAh } = account;
    expect(settlingAh + asleepAh + wakesAh + heldAh + unknownAh).toBeCloseTo(stand.chargeOutAh, 6);
    expect(fedAh).toBe(0);
    expect(Math.min(settlingAh, asleepAh, wakesAh, heldAh, unknownAh)).toBeGreaterThanOrEqual(0);
    const wakes = analysis.wakes.filter((wake) => wake.stand === k);
    const wokenAh = wakes.reduce((sum, wake) => sum + wake.chargeAh, 0);
    // Somebody comes to the vehicle before key-on, and that is no wake between two sleeps.
    expect(wakesAh).toBeGreaterThan(0.95 * wokenAh);
  });
});
