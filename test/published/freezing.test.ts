import { describe, expect, it } from 'vitest';
import { densityFromCharge } from '../../src/battery/density.ts';
import { freezingPointC } from '../../src/battery/freezing.ts';

describe('freezing point', () => {
  // TM 5-3820-256-24-4, Table 2 (seen). The other table, US Army OD 1002, p. 54 (seen), differs by up to 2.3 °C.
  it.each([
    [1, -59.5],
    [0.75, -37.2],
    [0.5, -26.1],
    [0.25, -15.0],
    [0, -9.4],
  ])('at a charge of %f spans %f °C and the other table', (charge, freezesC) => {
    const { low, high } = freezingPointC(charge);
    expect(low).toBeLessThanOrEqual(freezesC);
    expect(high).toBeGreaterThanOrEqual(freezesC);
    if (charge > 0) expect(high - low).toBeLessThan(2.5);
  });

  // US Army OD 1002, p. 54 (seen), at densities between empty and full: 1.150 −15 °C, 1.200 −26.7 °C, 1.250 −52.2 °C
  it.each([
    [1.15, -15],
    [1.2, -26.7],
    [1.25, -52.2],
  ])('at a density of %f spans %f °C', (density, freezesC) => {
    const { low, high } = freezingPointC(chargeOf(density));
    expect(low).toBeLessThanOrEqual(freezesC + 0.05);
    expect(high).toBeGreaterThanOrEqual(freezesC - 0.05);
  });

  // TM 9-6140-200-14, §2-5 (seen): a discharged battery can freeze at −12 °C
  it('has an empty battery frozen at −12 °C and a full one not', () => {
    expect(freezingPointC(0).low).toBeGreaterThan(-12);
    expect(freezingPointC(1).high).toBeLessThan(-12);
  });
});

// A vehicle maker's owner's manual, storage chart by density (seen): 1.050 +27 °F, 1.100 +18 °F, 1.150 +5 °F, 1.225 −35 °F
it('takes a battery that reads empty for one that may freeze at a few degrees below zero', () => {
  expect(freezingPointC(0).high).toBeCloseTo((27 - 32) / 1.8, 1);
  expect(freezingPointC(chargeOf(1.15)).high).toBeGreaterThanOrEqual((5 - 32) / 1.8);
  expect(freezingPointC(0.75).high).toBeGreaterThanOrEqual((-35 - 32) / 1.8 - 0.1);
});

/** By halving, so that the test does not lean on the inverse under test elsewhere. */
function chargeOf(density: number): number {
  let [low, high] = [0, 1];
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2;
    if (densityFromCharge(middle) < density) low = middle;
    else high = middle;
  }
  return low;
}
