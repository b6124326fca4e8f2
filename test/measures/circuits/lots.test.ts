import { expect, it } from 'vitest';
import { lots } from '../../../src/measures/circuits/lots.ts';

it('draws the same numbers each time, others for another stream, evenly from 0 to 1', () => {
  const drawn = (stream: number) => {
    const draw = lots(stream);
    return Array.from({ length: 4000 }, () => draw());
  };
  expect(drawn(7)).toEqual(drawn(7));
  expect(drawn(7)).not.toEqual(drawn(8));
  const tenths = new Array<number>(10).fill(0);
  for (const x of drawn(7)) tenths[Math.floor(10 * x)]++;
  // 400 each; five standard deviations of a binomial count (19) around it.
  for (const count of tenths) expect(Math.abs(count - 400)).toBeLessThan(95);
});
