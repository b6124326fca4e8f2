import fc from 'fast-check';
import { expect, test } from 'vitest';
import { withRoom } from '../../../src/charts/drawing/labels.ts';
import { visible } from '../../../src/charts/drawing/lanes.ts';
import { PLOT } from '../../../src/charts/drawing/theme.ts';

const spans = fc
  .array(fc.tuple(fc.integer({ min: 0, max: 400_000 }), fc.integer({ min: 0, max: 20_000 })), { maxLength: 400 })
  .map((list) => list.map(([start, length]) => ({ start, end: Math.min(start + length, 400_000) })))
  .map((list) => list.sort((a, b) => a.start - b.start));

test('every span is seen, at least a pixel long, and there are never more than pixels allow', () => {
  fc.assert(
    fc.property(spans, (list) => {
      const shown = visible(list, 0, 400_000);
      const pixelS = 400_000 / PLOT;
      for (const { start, end } of list) {
        expect(shown.some((span) => span.start <= start && span.end >= end)).toBe(true);
      }
      for (const [k, span] of shown.entries()) {
        const cutAtEdge = span.start === 0 || span.end === 400_000;
        expect(span.end - span.start).toBeGreaterThanOrEqual(cutAtEdge ? pixelS / 2 - 1e-6 : pixelS - 1e-6);
        if (k > 0) expect(span.start - shown[k - 1].end).toBeGreaterThanOrEqual(pixelS - 1e-6);
      }
      expect(shown.length).toBeLessThanOrEqual(PLOT / 2 + 1);
    }),
  );
});

test('labels that would run into an earlier one are left out', () => {
  const label = (at: number) => ({ at, label: '47 ± 6 mA' });
  const kept = withRoom([label(100), label(110), label(300)], ({ at }) => at);
  expect(kept.map(({ at }) => at)).toEqual([100, 300]);
});
