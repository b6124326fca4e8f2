/** Lanes: stretches of time as bars, one lane a kind. Each lane is one broken line, which is a tenth of the size of bars. */

import type { Span } from '../../analysis/model.ts';
import { leftAxis, rows } from '../chart.ts';
import { PLOT } from './theme.ts';

/** The vertical axis: words instead of numbers, first lane on top. */
export function laneY(labels: readonly string[]) {
  return {
    field: 'lane',
    type: 'quantitative',
    scale: { domain: [-0.5, labels.length - 0.5], nice: false, reverse: true },
    axis: { ...leftAxis({ values: labels.map((_, k) => k), labels }), grid: false },
  };
}

/** Data and mark of one lane, to be given an encoding of `t` and `lane`. */
export function laneMark(
  spans: readonly Span[],
  lane: number,
  x: (s: number) => number,
  color: string,
  thicknessPx: number,
) {
  const corners = spans.flatMap(({ start, end }) => [
    { t: x(start), lane },
    { t: x(end), lane },
    { t: x(end), lane: null },
  ]);
  return { data: rows(corners), mark: { type: 'line', color, strokeWidth: thicknessPx, strokeCap: 'butt' } };
}

/**
 * Each span at least a pixel of the whole plot long, so that a short wake is seen, and joined where less than a pixel parts
 * them: never more than one for every two pixels. `spans` in order of time.
 */
export function visible(spans: readonly Span[], fromS: number, toS: number): readonly Span[] {
  const pixelS = (toS - fromS) / PLOT;
  const joined: { start: number; end: number }[] = [];
  for (const span of spans) {
    if (span.end < fromS || span.start > toS) continue;
    const missing = Math.max(0, pixelS - (span.end - span.start)) / 2;
    const [start, end] = [Math.max(span.start - missing, fromS), Math.min(span.end + missing, toS)];
    const last = joined.at(-1);
    if (last !== undefined && start - last.end < pixelS) last.end = Math.max(last.end, end);
    else joined.push({ start, end });
  }
  return joined;
}
