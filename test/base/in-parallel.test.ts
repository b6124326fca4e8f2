import { expect, test } from 'vitest';
import { inParallel } from '../../src/base/in-parallel.ts';

test('many things at a time, answers in the order of the items, no more at once than asked', async () => {
  let [now, most] = [0, 0];
  const answers = await inParallel([30, 1, 20, 5, 10], 2, async (ms, k) => {
    most = Math.max(most, ++now);
    await new Promise((resolve) => setTimeout(resolve, ms));
    now--;
    return `${k}:${ms}`;
  });
  expect(answers).toEqual(['0:30', '1:1', '2:20', '3:5', '4:10']);
  expect(most).toBe(2);
});

test('what one of them throws is thrown', async () => {
  const work = async (n: number) => {
    if (n === 2) throw new Error('two');
    return n;
  };
  await expect(inParallel([1, 2, 3], 2, work)).rejects.toThrow('two');
});
