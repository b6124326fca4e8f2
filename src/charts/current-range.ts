/** Cranks whose current stops at the end of the sensor's range, or the hour in which another reading did. */
import { type Clipping, clippingOf } from '../measures/clipping.ts';
import {
  bandLayers,
  type Draft,
  limitLine,
  panel,
  rows,
  type Subject,
  timeX,
  topLevel,
  valueX,
  valueY,
} from './chart.ts';
import { numberTicks, quantity, rounded } from './drawing/numbers.ts';
import { BLUE } from './drawing/theme.ts';
import { thinned } from './drawing/thinned.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, tilesToColumns } from './drawing/tiles-to-columns.ts';

export const name = 'current-range';
const MOST_CRANKS = 6;
const BEFORE_S = 0.5;
const AFTER_S = 2;
const COLUMNS = 150;
const AROUND_S = 1800;
const HEIGHT = 170;
/** Of the range: readings this near to its end have reached it. */
const REACHED = 0.99;

/** Null where no reading was clipped. */
export function currentRange(subject: Subject): Draft | null {
  const { analysis, session, words } = subject;
  const clipping = clippingOf(analysis, session);
  const layer = clipping && (crankLayer(subject, clipping) ?? timeLayer(subject, clipping));
  if (!clipping || !layer) return null;
  const title = words.say(`title.${name}`);
  const heading = { title: words.say('axis.draw_a'), note: words.say('note.current-range'), height: HEIGHT };
  return {
    name,
    check: name,
    title,
    spec: topLevel(title, panel({ ...heading, layer })),
    altFacts: { rangeA: clipping.levelA, cranks: clipping.cranks },
  };
}

/** Undefined where no crank with a waveform was clipped. */
function crankLayer({ analysis, words }: Subject, { levelA, cranks: count }: Clipping): object[] | undefined {
  const clipped = analysis.cranks.filter(
    ({ ampsPeak, wave }) => (ampsPeak ?? 0) >= REACHED * levelA && wave.t.length > 1,
  );
  if (count === 0 || clipped.length === 0) return undefined;
  const lines = clipped.slice(0, MOST_CRANKS).map(({ at, wave }) => {
    const points = Array.from(wave.t, (t, k) => ({ t: rounded(t - at), y: rounded(-wave.i[k]) }));
    return thinned(
      points.filter(({ t, y }) => t >= -BEFORE_S && t <= AFTER_S && !Number.isNaN(y)),
      COLUMNS,
    );
  });
  const draws = lines.flat().map(({ y }) => y);
  const seconds = niceTicks(-BEFORE_S, AFTER_S, 5).values;
  const x = valueX('t', numberTicks(seconds, words), [-BEFORE_S, AFTER_S], words.say('axis.since_crank'));
  const y = drawY(words, Math.min(0, ...draws), levelA);
  return [
    ...rangeLine(y('y'), levelA, words),
    ...lines.map((points) => ({
      data: rows(points),
      mark: { type: 'line', color: BLUE, strokeWidth: 1.2, opacity: 0.7, clip: true },
      encoding: { x, y: y('y') },
    })),
  ];
}

function timeLayer(subject: Subject, { at, levelA }: Clipping): object[] {
  const { analysis, clock, words } = subject;
  const { tiles } = analysis;
  const from = Math.max(analysis.start, at - AROUND_S);
  const to = Math.min(analysis.end, at + AROUND_S);
  const points = bandPoints(
    tilesToColumns(tiles, { mean: tiles.i, min: tiles.iMin, max: tiles.iMax }, from, to),
    clock.x,
    (amps) => rounded(-amps),
  );
  const draws = points.flatMap(({ lo, hi }) => (lo === null || hi === null ? [] : [lo, hi]));
  const [least, most] = [Math.min(0, ...draws), Math.max(0, ...draws)];
  const x = timeX(subject, from, to);
  const y = drawY(words, least, most);
  return [
    ...(most > REACHED * levelA ? rangeLine(y('y'), levelA, words) : []),
    ...(least < -REACHED * levelA ? rangeLine(y('y'), -levelA, words) : []),
    ...bandLayers(x, y, rows(points)),
  ];
}

function drawY(words: Subject['words'], least: number, most: number) {
  const { values, domain } = niceTicks(Math.min(least, 1.08 * least), Math.max(most, 1.08 * most), 5);
  return (field: string) => valueY(field, numberTicks(values, words), domain);
}

const rangeLine = (y: object, levelA: number, words: Subject['words']) =>
  limitLine(y, rounded(levelA), [words.say('mark.range'), quantity(Math.abs(levelA), 'A', words)]);
