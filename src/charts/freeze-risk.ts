/** Temperature over the session, and below it, stand by stand, where the acid would freeze at the charge seen. */

import { freezeRisks } from '../measures/freeze-risks.ts';
import { type Draft, findingOf, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, ORANGE, ORANGE_PALE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, tilesToColumns } from './drawing/tiles-to-columns.ts';

export const name = 'freeze-risk';

/** Null where it was never cold enough to need a charge: then there is no freezing point to draw. */
export function freezeRisk(subject: Subject): Draft | null {
  const { analysis, session, findings, words, clock } = subject;
  const { temperature, tiles } = analysis;
  const finding = findingOf(findings, 'freeze-risk');
  if (temperature === null || !finding || finding.variant === 'never-cold') return null;
  const risks = freezeRisks(analysis, session);
  if (risks.length === 0) return null;
  const stands = risks.map(({ span, coldestC, warmestC, freezesC }) => ({
    t: clock.x(span.start),
    end: clock.x(span.end),
    lo: rounded(coldestC),
    hi: rounded(warmestC),
    y: rounded(freezesC),
  }));
  const temp = { mean: tiles.temp, min: tiles.temp, max: tiles.temp };
  const line = bandPoints(tilesToColumns(tiles, temp, analysis.start, analysis.end), clock.x, rounded);
  const { values, domain } = niceTicks(Math.min(temperature.min, ...stands.map(({ lo }) => lo)), temperature.max, 5);
  const x = timeX(subject, analysis.start, analysis.end);
  const y = (field: string) => valueY(field, numberTicks(values, words), domain);
  const layer = [
    {
      mark: { type: 'rect', color: ORANGE_PALE },
      encoding: { x, x2: { field: 'end' }, y: y('lo'), y2: { field: 'hi' } },
    },
    { mark: { type: 'rule', color: ORANGE, strokeWidth: 1.5 }, encoding: { x, x2: { field: 'end' }, y: y('y') } },
    { data: rows(line), mark: { type: 'line', color: BLUE, strokeWidth: 1.3 }, encoding: { x, y: y('y') } },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'freeze-risk',
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.temperature'),
        note: words.say('note.freeze-risk'),
        height: 170,
        data: rows(stands),
        layer,
      }),
    ),
    altFacts: {
      stands: new Set(risks.map(({ stand }) => stand)).size,
      coldestC: temperature.min,
      warmestFreezingC: Math.max(...risks.map(({ warmestC }) => warmestC)),
    },
  };
}
