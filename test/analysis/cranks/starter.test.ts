import { expect, it } from 'vitest';
import type { RawCrank } from '../../../src/analysis/cranks/raw-crank.ts';
import { partStarts } from '../../../src/analysis/cranks/starter.ts';

const USUAL = { at: 0, seconds: 1, recovered: true, ampsMean: 200, ampsPeak: 500, ampsBefore: 8, voltsMin: 9 };
const found = (change: Partial<RawCrank>) => ({ ...USUAL, ...change }) as RawCrank;
const isLoad = (one: Partial<RawCrank>) => partStarts([found({ at: -3600 }), found(one)], []).loads.length === 1;

it('an engine that ran after it shows a start, whatever was drawn', () => {
  expect(isLoad({ seconds: 40, ampsMean: 60, ampsPeak: 60, ampsBefore: 0 })).toBe(false);
});

it('a draw well below that of this vehicle’s starts is a load, the longer it lasts the sooner', () => {
  expect(isLoad({ recovered: false, ampsMean: 90 })).toBe(true);
  expect(isLoad({ recovered: false, ampsMean: 120 })).toBe(false);
  expect(isLoad({ recovered: false, ampsMean: 120, seconds: 6 })).toBe(true);
});

it('nobody turns the starter for long without the ignition, or evenly for longer than ten seconds', () => {
  expect(isLoad({ recovered: false, seconds: 8, ampsBefore: 0.1 })).toBe(true);
  expect(isLoad({ recovered: false, seconds: 8 })).toBe(false);
  expect(isLoad({ recovered: false, seconds: 15, ampsPeak: 220 })).toBe(true);
  expect(isLoad({ recovered: false, seconds: 15 })).toBe(false);
});

it('where no current tells, it stays a start', () => {
  expect(isLoad({ recovered: false, seconds: 30, ampsMean: null, ampsPeak: null })).toBe(false);
});

it('loads come in order of time, with their draw', () => {
  const winch = { at: 500, seconds: 20, meanA: 150, voltsMin: 11 };
  const { loads } = partStarts([found({ at: 100, recovered: false, seconds: 30, ampsPeak: 210 })], [winch]);
  expect(loads).toEqual([{ at: 100, seconds: 30, meanA: 200, voltsMin: 9 }, winch]);
});
