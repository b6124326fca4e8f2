/** Internal resistance that each crank shows, with its uncertainty, over the session. */
import { expandedU } from '../measures/sensor.ts';
import { measuredCranks } from '../measures/starter.ts';
import { type Draft, findingOf, limitLine, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { limitWords, numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'battery-resistance';

export function batteryResistance(subject: Subject): Draft | null {
  const { analysis, session, findings, words, clock } = subject;
  const cranks = measuredCranks(analysis, session);
  if (cranks.length === 0) return null;
  const limit = findingOf(findings, 'battery-resistance')?.limit;
  const milli = (ohm: number) => rounded(1000 * ohm);
  const points = cranks.map((crank) => {
    const { value } = crank.resistanceOhm;
    const U = expandedU(crank.resistanceOhm);
    return { t: clock.x(crank.at), y: milli(value), lo: milli(Math.max(0, value - U)), hi: milli(value + U) };
  });
  const most = Math.max(milli(limit?.value ?? 0), ...points.map(({ hi }) => hi));
  const { values, domain } = niceTicks(0, 1.1 * most, 5);
  const x = timeX(subject, analysis.start, analysis.end);
  const y = (field: string) => valueY(field, numberTicks(values, words), domain);
  const layer = [
    ...(limit ? limitLine(y('y'), milli(limit.value), limitWords(limit.value, 'Ω', words)) : []),
    { mark: { type: 'rule', color: BLUE, strokeWidth: 1.5 }, encoding: { x, y: y('lo'), y2: { field: 'hi' } } },
    {
      mark: { type: 'point', shape: 'circle', filled: true, size: 45, color: BLUE, opacity: 1 },
      encoding: { x, y: y('y') },
    },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'battery-resistance',
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.resistance'),
        note: words.say('note.battery-resistance'),
        height: 150,
        data: rows(points),
        layer,
      }),
    ),
    altFacts: {
      cranks: cranks.length,
      lowestOhm: Math.min(...cranks.map((crank) => crank.resistanceOhm.value)),
      highestOhm: Math.max(...cranks.map((crank) => crank.resistanceOhm.value)),
      limitOhm: limit?.value ?? null,
    },
  };
}
