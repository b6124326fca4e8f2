import { expect, it } from 'vitest';
import { createUsual } from '../../../src/analysis/cranks/usual.ts';
import { blockOf } from '../blocks.ts';

const rows = (from: number, n: number, v: number) =>
  blockOf(Array.from({ length: n }, (_, k) => ({ t: (from + k) / 10, v, i: -0.5, temp: 15 })));

it('levels follow the voltage, that of the last moment the quicker', () => {
  const usual = createUsual();
  usual.passRun(rows(0, 100, 12.6), 0, 100);
  expect([usual.reference, usual.recent, usual.lastT, usual.hasCurrent]).toEqual([12.6, 12.6, 9.9, true]);
  usual.passRun(rows(100, 10, 12.0), 0, 10);
  expect(usual.recent).toBeLessThan(usual.reference);
  expect(usual.reference).toBeLessThan(12.6);
});

it('a row by itself does what a run does', () => {
  const [one, other] = [createUsual(), createUsual()];
  const block = rows(0, 50, 12.4);
  one.passRun(block, 0, 50);
  for (let k = 0; k < 50; k++) other.take(block.t[k], block.v[k], block.i[k], block.temp[k], undefined);
  expect([other.reference, other.recent, other.lastT]).toEqual([one.reference, one.recent, one.lastT]);
  expect(other.since(0)).toEqual(one.since(0));
});

it('what is deep is not usual, and a reading that is lacking changes nothing', () => {
  const usual = createUsual();
  usual.passRun(rows(0, 50, 12.6), 0, 50);
  for (let k = 50; k < 60; k++) usual.take(k / 10, 9, -200, 15, 'deep');
  expect(usual.reference).toBe(12.6);
  expect(usual.recent).toBeLessThan(10);
  const before = usual.recent;
  usual.take(6, Number.NaN, -200, 15, 'deep');
  expect(usual.recent).toBe(before);
  usual.startFromRecent();
  expect(usual.reference).toBe(before);
});

it('after a silence levels begin anew', () => {
  const usual = createUsual();
  usual.passRun(rows(0, 50, 12.6), 0, 50);
  usual.take(60, 13.1, -0.5, 15, undefined);
  expect([usual.reference, usual.recent]).toEqual([13.1, 13.1]);
});
