import { expect, it } from 'vitest';
import { REST_DRAW_A, restedCharges } from '../../src/measures/rested-charge.ts';
import { nothing, session, week } from '../checks/analysis-fixture.ts';

const HOUR = 3600;
/** The usual week, each rest changed. */
function rests(change: { readonly drawA?: number; readonly sinceChargeS?: number }) {
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
  expect(restedCharges(rests(change), session())).toEqual({ charges: [], reason });
});

it('says that there was no stand', () => {
  expect(restedCharges(nothing(), session()).reason).toBe('no-stand');
});

it('a curve too flat, or not known, tells no charge', () => {
  const nmc = session({ battery: { chemistry: 'nmc' } });
  expect(restedCharges(rests({ sinceChargeS: 12 * HOUR }), nmc)).toEqual({ charges: [], reason: 'flat-curve' });
});
