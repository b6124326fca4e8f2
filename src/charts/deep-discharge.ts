/** Voltage while parked, at its lowest, against the voltage below which a battery takes harm. */
import { parkedTiles } from '../measures/parked-voltage.ts';
import {
  type Draft,
  factOf,
  findingOf,
  limitLine,
  panel,
  rows,
  type Subject,
  timeX,
  topLevel,
  valueY,
} from './chart.ts';
import { limitWords, numberTicks, quantity, rounded } from './drawing/numbers.ts';
import { BLUE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, tilesToColumns } from './drawing/tiles-to-columns.ts';

export const name = 'deep-discharge';

/** Findings that keep the limit, and the fact that they fall below. */
const LOW_BY: Readonly<Record<string, string>> = { empty: 'emptyV', low: 'hardV' };

/** Null where the battery was nowhere near: the overview shows that as well. */
export function deepDischarge(subject: Subject): Draft | null {
  const { analysis, session, findings, words, clock } = subject;
  const finding = findingOf(findings, 'deep-discharge');
  if (!finding?.limit || finding.status === 'clear') return null;
  // What was low for hours is drawn against what it was low by.
  const lowV = factOf(finding, LOW_BY[finding.variant ?? ''] ?? '');
  const limitV = lowV ?? finding.limit.value;
  const { tiles } = analysis;
  const volts = new Float64Array(tiles.n).fill(Number.NaN);
  for (const k of parkedTiles(analysis, session)) volts[k] = tiles.v[k];
  const runs = tilesToColumns(tiles, { mean: volts, min: volts, max: volts }, analysis.start, analysis.end);
  if (runs.length === 0) return null;
  const columns = runs.flat();
  const lowest = Math.min(...columns.map(({ min }) => min));
  const highest = Math.max(...columns.map(({ max }) => max));
  const { values, domain } = niceTicks(Math.min(lowest, limitV), highest, 5);
  const x = timeX(subject, analysis.start, analysis.end);
  const y = valueY('lo', numberTicks(values, words), domain);
  const limitY = { ...y, field: 'y' };
  const layer = [
    ...limitLine(
      limitY,
      rounded(limitV),
      lowV === null ? limitWords(limitV, 'V', words) : [quantity(limitV, 'V', words)],
    ),
    { mark: { type: 'line', color: BLUE, strokeWidth: 1.3, strokeJoin: 'round' }, encoding: { x, y } },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'deep-discharge',
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.voltage'),
        note: words.say('note.deep-discharge'),
        height: 150,
        data: rows(bandPoints(runs, clock.x, rounded)),
        layer,
      }),
    ),
    altFacts: { lowestV: lowest, limitV },
  };
}
