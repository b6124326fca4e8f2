import { expect, it } from 'vitest';
import { createFlappingFilter } from '../../../src/log/order/flapping.ts';
import { blockOf } from './blocks.ts';

function cleaned(read: (k: number) => number, n = 60) {
  const told: number[] = [];
  const block = blockOf(n, (k) => [read(k), 0]);
  createFlappingFilter(12, (t) => told.push(t)).clean(block, n);
  return { told, v: block.v };
}

it('takes out a voltage that swings within two seconds between nothing and far too much', () => {
  const { told, v } = cleaned((k) => (k >= 20 && k < 24 ? (k % 2 ? 25 : 0.3) : 12.5));
  expect(told).toEqual([20, 21, 22, 23]);
  expect(v[20]).toBeNaN();
  expect(v[19]).toBe(12.5);
});

it('leaves a lost supply, which is low alone, and a surge that is high alone', () => {
  expect(cleaned((k) => (k >= 20 && k < 40 ? 0.2 : 12.5)).told).toEqual([]);
  expect(cleaned((k) => (k === 20 ? 24 : 12.5)).told).toEqual([]);
});

it('leaves a crank', () => {
  expect(cleaned((k) => (k === 20 ? 7.5 : k === 21 ? 14.6 : 12.5)).told).toEqual([]);
});

it('believes no high reading any more once it flapped often', () => {
  const { told } = cleaned((k) => (k < 10 ? (k % 2 ? 25 : 0.3) : k === 50 ? 25 : 12.5));
  expect(told).toContain(50);
});
