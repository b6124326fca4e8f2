import { expect, it } from 'vitest';
import { fedFromV } from '../../src/battery/fed-voltage.ts';

// Common practice, no source: above what each chemistry rests at, and in proportion to the system.
it('a lithium battery that rests at 13.35 V is not being charged; a lead battery there is', () => {
  expect(fedFromV('lfp', 12)).toBeGreaterThan(13.35);
  expect(fedFromV('flooded', 12)).toBeLessThan(13.35);
  expect(fedFromV('agm', 24)).toBeCloseTo(2 * fedFromV('agm', 12), 9);
});
