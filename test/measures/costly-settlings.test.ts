/** What a key-off costs until the vehicle sleeps. Common practice, no source. */
import { expect, it } from 'vitest';
import { heldLoads } from '../../src/measures/account/held-loads.ts';
import { standsCompared } from '../../src/measures/account/stands-compared.ts';
import { type Settling, settlings } from '../../src/measures/circuits/settlings.ts';
import { costlySettlings, ranOnAh } from '../../src/measures/costly-settlings.ts';
import { session, week } from '../checks/analysis-fixture.ts';

function costly(charges: readonly number[], capacityAh = 70) {
  const analysis = week();
  const all = charges.map((chargeAh, k): Settling => ({ start: 1e9 + k * 1e4, seconds: 900, slow: false, chargeAh }));
  settlings.given(analysis, { slowAfterS: 3600, all });
  return costlySettlings(analysis, session({ battery: { capacityAh } }));
}

it('is what takes many times as much as others, and a real part of the battery', () => {
  const found = costly([0.2, 0.3, 7.6, 0.2, 12.3, 0.3, 0.2]);
  expect(found?.costly.map(({ chargeAh }) => chargeAh)).toEqual([7.6, 12.3]);
  expect(found).toMatchObject({ seen: 7, usualAh: 0.2, most: { chargeAh: 12.3 } });
});

it.each<[string, readonly number[]]>([
  ['a fan that runs on for a while after each drive', [2.4, 2.2, 2.6, 2.3]],
  ['many times little', [0.01, 0.02, 0.9, 0.01]],
  ['a long settling among others', [0.8, 0.9, 2.5, 0.7]],
])('is not %s', (_, charges) => {
  expect(costly(charges)).toBeNull();
});

it('is none that never ended in sleep, and none that a load from key-off explains', () => {
  const analysis = week();
  const one = { start: 1e9, seconds: 900, slow: false, chargeAh: 12 };
  const with1 = (...all: readonly Settling[]) => {
    const copy = { ...analysis };
    settlings.given(copy, { slowAfterS: 3600, all });
    return copy;
  };
  const quick = { ...one, start: 2e9, chargeAh: 0.2 };
  expect(costlySettlings(with1({ ...one, seconds: null }, quick), session())).toBeNull();
  const load = { start: 1e9, end: 1e9 + 1e5, stand: 0, meanA: 0.3, chargeAh: 11, seconds: 1e5 };
  const held = with1(one, quick);
  heldLoads.given(held, [{ ...load, from: 'key-off', until: 'within' }]);
  expect(costlySettlings(held, session())).toBeNull();
  expect(costlySettlings(with1(one, quick), session())).not.toBeNull();
});

it('is what takes so much each time', () => {
  expect(costly([8, 9, 7])).toMatchObject({ seen: 3, usualAh: null, most: { chargeAh: 9 } });
});

it('of a load of hours from key-off is kept back too, but where stands are told against each other by it', () => {
  const analysis = week();
  const quick = { start: 2e9, seconds: 900, slow: false, chargeAh: 0.2 };
  settlings.given(analysis, { slowAfterS: 3600, all: [{ ...quick, start: 1e9, slow: true, chargeAh: 12.5 }, quick] });
  const load = { start: 1e9, end: 1e9 + 14_000, stand: 0, meanA: 3.2, chargeAh: 12.4, seconds: 14_000 };
  heldLoads.given(analysis, [{ ...load, from: 'key-off', until: 'within' }]);
  standsCompared.given(analysis, null);
  expect(costlySettlings(analysis, session())).toBeNull();
  expect(ranOnAh(analysis, session())).toBeCloseTo(12.3, 6);

  const told = { ...week() };
  settlings.given(told, { slowAfterS: 3600, all: [{ ...quick, start: 1e9, slow: true, chargeAh: 12.5 }, quick] });
  standsCompared.given(told, { loads: [{ ...load, from: 'key-off', until: 'within' }] } as never);
  expect(ranOnAh(told, session())).toBe(0);
});
