import fc from 'fast-check';
import { expect, test } from 'vitest';
import { thinned } from '../../../src/charts/drawing/thinned.ts';

test('each column keeps its first, lowest, highest and last point, in order, and no more', () => {
  const values = fc.array(fc.integer({ min: -1000, max: 1000 }), { minLength: 1, maxLength: 3000 });
  fc.assert(
    fc.property(values, fc.integer({ min: 1, max: 50 }), (list, columns) => {
      const points = list.map((y, t) => ({ t, y }));
      const kept = thinned(points, columns);
      expect(kept.length).toBeLessThanOrEqual(Math.max(4 * columns, 0));
      expect(kept.map(({ t }) => t)).toEqual([...kept.map(({ t }) => t)].sort((a, b) => a - b));
      expect(kept[0]).toBe(points[0]);
      expect(kept.at(-1)).toBe(points.at(-1));
      const width = (points.length - 1) / columns;
      const of = (k: number) => (point: { t: number }) => Math.min(Math.floor(point.t / width), columns - 1) === k;
      if (points.length <= 4 * columns) return;
      for (let k = 0; k < columns; k++) {
        const [all, some] = [points.filter(of(k)), kept.filter(of(k))].map((part) => part.map(({ y }) => y));
        expect([some[0], some.at(-1)]).toEqual([all[0], all.at(-1)]);
        expect([Math.min(...some), Math.max(...some)]).toEqual([Math.min(...all), Math.max(...all)]);
      }
    }),
  );
});
