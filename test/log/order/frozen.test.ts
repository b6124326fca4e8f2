import { expect, it } from 'vitest';
import { createFrozenFinder, type Frozen } from '../../../src/log/order/frozen.ts';
import { blockOf } from './blocks.ts';

function frozenIn(...blocks: readonly ReturnType<typeof blockOf>[]): Frozen[] {
  const found: Frozen[] = [];
  const finder = createFrozenFinder((frozen) => found.push(frozen));
  for (const block of blocks) finder.push(block);
  finder.finish();
  return found;
}

it('a current that stands still while the voltage moves by volts is frozen', () => {
  const [one, ...others] = frozenIn(blockOf(300, (k) => [k < 150 ? 12.6 : 14.3, k < 100 ? -k : -5]));
  expect(one).toEqual({ column: 'current', at: 100, seconds: 199, rows: 200 });
  expect(others).toEqual([]);
});

it('a vehicle asleep is steady, and nothing of it is frozen', () => {
  expect(frozenIn(blockOf(5000, () => [12.6, -0.02]))).toEqual([]);
});

it('a slow discharge over hours is no move', () => {
  expect(frozenIn(blockOf(600, (k) => [12.6 - k / 300, -0.02], 60))).toEqual([]);
});

it('a run goes on from block to block', () => {
  const first = blockOf(40, (k) => [12.6, k < 5 ? -k : -5]);
  const second = blockOf(60, () => [14.4, -5]);
  for (let k = 0; k < 60; k++) second.t[k] += 40;
  expect(frozenIn(first, second)).toEqual([{ column: 'current', at: 5, seconds: 94, rows: 95 }]);
});
