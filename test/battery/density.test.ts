import { expect, it } from 'vitest';
import { CELL_OFFSETS_V, densityFromCharge, restVoltageFromDensityV } from '../../src/battery/density.ts';

// US Army TM 5-3820-256-24-4, Table 2 (seen).
it.each([
  [0, 1.12],
  [0.25, 1.155],
  [0.5, 1.19],
  [0.75, 1.225],
  [1, 1.265],
  [1.2, 1.265],
])('at a charge of %d the acid has a density of %d', (charge, density) => {
  expect(densityFromCharge(charge)).toBeCloseTo(density, 9);
});

// A cell rests at its density + 0.84 V (TM 5-684 / NAVFAC MO-200, eq. 14-1, seen) or + 0.845 V (DOE-HDBK-1084-95, p. 18).
it('six cells of 1.265 rest at 12.63 V, twelve at twice that', () => {
  expect(restVoltageFromDensityV(1.265, 12)).toBeCloseTo(12.63, 9);
  expect(restVoltageFromDensityV(1.265, 24)).toBeCloseTo(25.26, 9);
  expect(restVoltageFromDensityV(1.265, 12, CELL_OFFSETS_V[1])).toBeCloseTo(12.66, 9);
});
