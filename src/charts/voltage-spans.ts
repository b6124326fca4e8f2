/** Voltage over time with stretches shaded behind it: what `charger-seen` and `supply-lost` show. */
import { type Draft, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { type Span, visible } from './lanes.ts';
import { rounded, tickLabels } from './numbers.ts';
import { BLUE, BLUE_PALE, ORANGE_PALE, PALE } from './theme.ts';
import { niceTicks } from './ticks.ts';
import { bandPoints, tilesToColumns } from './tiles-to-columns.ts';

const HEIGHT = 150;

/** Null where the window, s since the epoch, holds no voltage. `quiet`: shaded too, in grey. */
export function voltageSpans(
  subject: Subject,
  told: {
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
  const { name, title, note, from, to, spans, quiet = [] } = told;
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
  const y = (field: string) => valueY(field, { values, labels: tickLabels(values, words) }, domain);
  const shade = (list: readonly Span[], color: string) => ({
    data: rows(visible(list, from, to).map(({ start, end }) => ({ t: clock.x(start), end: clock.x(end) }))),
    mark: { type: 'rect', color, clip: true },
    encoding: { x, x2: { field: 'end' } },
  });
  const points = rows(bandPoints(runs, clock.x, rounded));
  const layer = [
    shade(quiet, PALE),
    shade(spans, ORANGE_PALE),
    {
      data: points,
      mark: { type: 'area', color: BLUE_PALE, clip: true },
      encoding: { x, y: y('lo'), y2: { field: 'hi' } },
    },
    { data: points, mark: { type: 'line', color: BLUE, strokeWidth: 1.2, clip: true }, encoding: { x, y: y('y') } },
  ];
  const heading = { title: words.say('axis.voltage'), note, height: HEIGHT };
  return { name, check: name, title, spec: topLevel(title, panel({ ...heading, layer })), altFacts: told.altFacts };
}
