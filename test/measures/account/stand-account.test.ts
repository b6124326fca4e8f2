/** Simulated vehicles with a load that stays: every ampere-hour of a stand has its place, and the load is found where it was. */
import { describe, expect, test } from 'vitest';
import type { Scenario } from '../../../src/demo/scenario.ts';
import { standAccounts } from '../../../src/measures/account/stand-account.ts';
import { analysed, DAY, HOUR, keyOff, keyOn, load, MIN, mornings } from '../../simulated/load-stories.ts';

function accountsOf(scenario: Scenario) {
  const { analysis, session } = analysed(scenario);
  return { analysis, accounts: standAccounts(analysis, session), t0: scenario.start };
}

describe('a load that stays', () => {
  const near = (a: number, b: number, share: number) => expect(Math.abs(a / b - 1)).toBeLessThan(share);

  test('from key-off to key-on in two of seven stands is told there, with its draw', () => {
    const extra = [2, 4].map((day) => load(keyOff(day), keyOn(day + 1), 0.449));
    const { accounts, t0 } = accountsOf(mornings(7, { extra }));
    const held = accounts.flatMap((account) => account.held);
    expect(held).toHaveLength(2);
    for (const [k, day] of [2, 4].entries()) {
      const one = held[k];
      expect(Math.abs((one?.start ?? 0) - t0 - keyOff(day))).toBeLessThan(5 * MIN);
      near(one?.meanA ?? 0, 0.449, 0.05);
      near(one?.chargeAh ?? 0, 0.449 * 23.5, 0.05);
      expect(one).toMatchObject({ from: 'key-off', until: 'key-on' });
    }
  });

  test('from mid-stand to key-on, and from key-off until something cut it off', () => {
    const from = keyOff(1) + 8 * HOUR;
    const extra = [load(from, keyOn(2), 0.2), load(keyOff(3), keyOff(3) + 15 * HOUR, 0.38)];
    const { accounts, t0 } = accountsOf(mornings(5, { extra }));
    const [late, early, ...others] = accounts.flatMap((account) => account.held);
    expect(others).toEqual([]);
    expect(Math.abs((late?.start ?? 0) - t0 - from)).toBeLessThan(5 * MIN);
    near(late?.meanA ?? 0, 0.2, 0.06);
    expect(late).toMatchObject({ from: 'within', until: 'key-on' });
    expect(Math.abs((early?.end ?? 0) - t0 - keyOff(3) - 15 * HOUR)).toBeLessThan(10 * MIN);
    near(early?.meanA ?? 0, 0.38, 0.05);
    expect(early).toMatchObject({ from: 'key-off', until: 'within' });
  });

  test('in all stands but one is told in all of those', () => {
    const extra = [1, 2, 3, 5].map((day) => load(keyOff(day), keyOn(day + 1), 0.449));
    const { accounts } = accountsOf(mornings(6, { extra }));
    expect(accounts.map(({ held }) => held.length)).toEqual([0, 0, 1, 1, 1, 0, 1]);
  });

  test('is none in a vehicle that settles and wakes as it should', () => {
    const { accounts } = accountsOf(mornings(4, {}));
    expect(accounts.flatMap(({ held }) => held)).toEqual([]);
  });
});

test('the parts of each stand add up to its charge, and wakes and settlings have theirs', () => {
  const extra = [load(keyOff(2), 3 * DAY, 0.449)];
  const { analysis, accounts } = accountsOf(mornings(5, { extra }));
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
    expect(wakesAh).toBeGreaterThanOrEqual(0.95 * wokenAh);
  });
});
