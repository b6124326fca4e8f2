/** Voltage over time with stretches shaded behind it: what `charger-seen` and `supply-lost` show. */

import type { Span } from '../../analysis/model.ts';
import { bandLayers, type Draft, panel, rows, type Subject, timeX, topLevel, valueY } from '../chart.ts';
import { visible } from './lanes.ts';
import { numberTicks, rounded } from './numbers.ts';
import { ORANGE_PALE, PALE } from './theme.ts';
import { niceTicks } from './ticks.ts';
import { bandPoints, tilesToColumns } from './tiles-to-columns.ts';

const HEIGHT = 150;

/** Null where the window, s since the epoch, holds no voltage. `quiet`: shaded too, in grey. */
export function voltageSpans(
  subject: Subject,
  asked: {
    readonly name: string;
    readonly title: string;
    readonly note: string;
    readonly from: number;
    readonly to: number;
    readonly spans: readonly Span[];
    readonly quiet?: readonly Span[];
    readonly altFacts: Draft['altFacts'];
  },
): Draft | null {
  const { analysis, words, clock } = subject;
  const { name, title, note, from, to, spans, quiet = [] } = asked;
  const { tiles } = analysis;
  const runs = tilesToColumns(tiles, { mean: tiles.v, min: tiles.vMin, max: tiles.vMax }, from, to);
  const columns = runs.flat();
  if (columns.length === 0) return null;
  const { values, domain } = niceTicks(
    // A disconnected logger's noise is no voltage below nought.
    Math.max(0, Math.min(...columns.map(({ min }) => min))),
    Math.max(...columns.map(({ max }) => max)),
    5,
  );
  const x = timeX(subject, from, to);
  const y = (field: string) => valueY(field, numberTicks(values, words), domain);
  const shade = (list: readonly Span[], color: string) => ({
    data: rows(visible(list, from, to).map(({ start, end }) => ({ t: clock.x(start), end: clock.x(end) }))),
    mark: { type: 'rect', color, clip: true },
    encoding: { x, x2: { field: 'end' } },
  });
  const layer = [
    shade(quiet, PALE),
    shade(spans, ORANGE_PALE),
    ...bandLayers(x, y, rows(bandPoints(runs, clock.x, rounded))),
  ];
  const heading = { title: words.say('axis.voltage'), note, height: HEIGHT };
  return { name, check: name, title, spec: topLevel(title, panel({ ...heading, layer })), altFacts: asked.altFacts };
}
