import { expect, it } from 'vitest';
import { limitOf, NO_SOURCE } from '../../src/measures/limit.ts';
import { session } from '../checks/analysis-fixture.ts';

const STANDARD = { key: 'parkedDraw', value: 0.05, unit: 'A', source: NO_SOURCE } as const;

it('the manifest comes before the default, and brings its own source', () => {
  expect(limitOf(STANDARD, session())).toEqual({ value: 0.05, unit: 'A', source: NO_SOURCE });
  const set = { ...session(), limits: { parkedDraw: { value: 0.025, source: 'service manual' } } };
  expect(limitOf(STANDARD, set)).toEqual({ value: 0.025, unit: 'A', source: 'service manual' });
});

it('says why a healthy session gave no limit', () => {
  const left = { ...session(), limitsFrom: { left: { parkedDraw: 'it never slept' } } };
  expect(limitOf(STANDARD, left as never).source).toBe(`${NO_SOURCE}; it never slept`);
});
