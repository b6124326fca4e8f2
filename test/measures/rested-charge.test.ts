import { expect, it } from 'vitest';
import type { Rest } from '../../src/analysis/model.ts';
import { REST_DRAW_A, restedCharges } from '../../src/measures/rested-charge.ts';
import { nothing, session, week } from '../checks/analysis-fixture.ts';

const HOUR = 3600;
/** The usual week, each rest changed. */
function rests(change: Partial<Rest>) {
  const analysis = week();
  return {
    ...analysis,
    stands: analysis.stands.map((stand) => ({ ...stand, rest: stand.rest && { ...stand.rest, ...change } })),
  };
}

it('reads the charge of each rest: a full battery near 12.6 to 12.7 V', () => {
  const analysis = rests({ sinceChargeS: 12 * HOUR });
  const { charges } = restedCharges(analysis, session());
  expect(charges).toHaveLength(analysis.stands.length);
  for (const { value, U } of charges) {
    expect(value).toBeGreaterThan(0.8);
    expect(U).toBeGreaterThan(0);
  }
  const low = restedCharges(week({ restV: 12.1 }), session()).charges;
  expect(Math.max(...low.map(({ value }) => value))).toBeLessThan(0.65);
});

it.each([
  ['surface-charge', { sinceChargeS: 600 }],
  ['drawn-on', { drawA: REST_DRAW_A + 0.1 }],
] as const)('says %s where that is why there is none', (reason, change) => {
  expect(restedCharges(rests(change), session())).toMatchObject({ charges: [], reason });
});

it('says that there was no stand', () => {
  expect(restedCharges(nothing(), session()).reason).toBe('no-stand');
});

it('a curve too flat, or not known, tells no charge', () => {
  const nmc = session({ battery: { chemistry: 'nmc' } });
  expect(restedCharges(rests({ sinceChargeS: 12 * HOUR }), nmc)).toMatchObject({ charges: [], reason: 'flat-curve' });
});

it('reads no charge from a rest that no lead-acid battery has, once its surface charge is gone', () => {
  // A cell has its acid's density and 0.84 V (rule of thumb, from memory): 13.36 V would take 1.387.
  const high = { volts: { value: 13.36, u: 0.01, k: 2 } };
  expect(restedCharges(rests({ ...high, sinceChargeS: 30 * HOUR }), session())).toMatchObject({
    charges: [],
    reason: 'above-full',
  });
  expect(restedCharges(rests({ ...high, sinceChargeS: 3 * HOUR }), session()).reason).toBe('surface-charge');
  expect(
    restedCharges(rests({ volts: { value: 12.95, u: 0.01, k: 2 }, sinceChargeS: 30 * HOUR }), session()).reason,
  ).not.toBe('above-full');
});

it('names the rest that is too high, though it is not the last', () => {
  const high = { value: 13.5, u: 0.01, k: 2 };
  const analysis = rests({ sinceChargeS: 12 * HOUR });
  const stands = analysis.stands.map((stand, k) =>
    k === 2 ? { ...stand, rest: stand.rest && { ...stand.rest, volts: high } } : stand,
  );
  const { charges, reason, last } = restedCharges({ ...analysis, stands }, session());
  expect({ charges, reason, volts: last?.volts.value }).toEqual({ charges: [], reason: 'above-full', volts: 13.5 });
});
