/** What the log covers and where its rows are at fault, one lane a kind. */

import type { Span } from '../analysis/model.ts';
import type { Tiles } from '../analysis/tiles/tiles.ts';
import { type Draft, panel, rows, type Subject, timeX, topLevel } from './chart.ts';
import { pxAlong, withRoom } from './drawing/labels.ts';
import { laneMark, laneY, visible } from './drawing/lanes.ts';
import { quantity } from './drawing/numbers.ts';
import { BLUE, ORANGE, PLOT } from './drawing/theme.ts';

export const name = 'log-coverage';
const LANE_PX = 18;

export function logCoverage(subject: Subject): Draft | null {
  const { analysis, words, clock } = subject;
  if (!(analysis.end > analysis.start)) return null;
  const placed = analysis.log.faults.flatMap((fault) =>
    fault.at === null ? [] : [{ ...fault, start: fault.at, end: fault.at + fault.seconds }],
  );
  const kinds = [...new Set(placed.map((fault) => fault.kind))];
  const countOf = (kind: string) =>
    placed.filter((fault) => fault.kind === kind).reduce((sum, fault) => sum + fault.count, 0);
  const labels = [words.say('mark.logged'), ...kinds.map((kind) => words.say(`fault.${kind}`))];
  const x = timeX(subject, analysis.start, analysis.end);
  const domainX: readonly [number, number] = [clock.x(analysis.start), clock.x(analysis.end)];
  const y = laneY(labels);
  const lane = (spans: readonly Span[], place: number, color: string) => ({
    ...laneMark(visible(spans, analysis.start, analysis.end), place, clock.x, color, LANE_PX - 6),
    encoding: { x, y },
  });
  const covered = coveredSpans(analysis.tiles);
  const gaps = gapsBetween(covered, analysis.start, analysis.end);
  const longestFirst = [...gaps]
    .sort((a, b) => b.end - b.start - (a.end - a.start))
    .map(({ start, end }) => ({ t: clock.x((start + end) / 2), lane: 0, label: quantity(end - start, 's', words) }));
  const counts = kinds.map((kind, k) => ({ lane: k + 1, label: `× ${countOf(kind)}` }));
  const layer = [
    lane(covered, 0, BLUE),
    ...kinds.map((kind, k) =>
      lane(
        placed.filter((fault) => fault.kind === kind),
        k + 1,
        ORANGE,
      ),
    ),
    {
      data: rows(withRoom(longestFirst, ({ t }) => pxAlong(t, domainX, PLOT))),
      mark: { type: 'text', baseline: 'bottom', dy: -8 },
      encoding: { x, y, text: { field: 'label' } },
    },
    {
      data: rows(counts),
      mark: { type: 'text', align: 'left', dx: 6 },
      encoding: { x: { value: PLOT }, y, text: { field: 'label' } },
    },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'log-coverage',
    title,
    spec: topLevel(title, panel({ title, height: LANE_PX * labels.length, layer })),
    altFacts: { coveredS: analysis.coveredS, missingS: analysis.missingS, gaps: gaps.length, faultKinds: kinds.length },
  };
}

/** Tiles that follow each other without a hole, joined. */
function coveredSpans(tiles: Pick<Tiles, 'n' | 't0' | 't1'>): readonly Span[] {
  const spans: { start: number; end: number }[] = [];
  for (let k = 0; k < tiles.n; k++) {
    const last = spans.at(-1);
    if (last !== undefined && tiles.t0[k] - last.end < 1e-3) last.end = tiles.t1[k];
    else spans.push({ start: tiles.t0[k], end: tiles.t1[k] });
  }
  return spans;
}

function gapsBetween(spans: readonly Span[], start: number, end: number): readonly Span[] {
  const edges = [{ start, end: start }, ...spans, { start: end, end }];
  return edges
    .slice(1)
    .flatMap((span, k) => (span.start - edges[k].end > 1e-3 ? [{ start: edges[k].end, end: span.start }] : []));
}
