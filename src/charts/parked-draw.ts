/** Draw of every stand while asleep, with its uncertainty, against the limit. */
import { expandedU } from '../measures/sensor.ts';
import { type Draft, findingOf, limitLine, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { pxAlong, withRoom } from './drawing/labels.ts';
import { limitWords, numberTicks, quantityPm, rounded, shownAs } from './drawing/numbers.ts';
import { BLUE, BLUE_PALE, PLOT } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'parked-draw';

export function parkedDraw(subject: Subject): Draft | null {
  const { analysis, findings, words, clock } = subject;
  const stands = analysis.stands.flatMap((stand) =>
    stand.sleepDrawA === null ? [] : [{ ...stand, drawA: stand.sleepDrawA.value, drawUA: expandedU(stand.sleepDrawA) }],
  );
  if (stands.length === 0) return null;

  const limit = findingOf(findings, 'parked-draw')?.limit;
  const highest = Math.max(limit?.value ?? 0, ...stands.map((s) => s.drawA + s.drawUA));
  const lowest = Math.min(0, ...stands.map((s) => s.drawA - s.drawUA));
  const shown = shownAs('A', highest, words);
  const show = (amps: number) => rounded(amps * shown.factor);
  const { values, domain } = niceTicks(show(lowest), show(highest * 1.12), 5);
  const x = timeX(subject, analysis.start, analysis.end);
  const domainX: readonly [number, number] = [clock.x(analysis.start), clock.x(analysis.end)];
  const yOf = (field: string) => valueY(field, numberTicks(values, words), domain);
  const points = stands.map((stand) => ({
    t: clock.x(stand.start),
    end: clock.x(stand.end),
    middle: clock.x((stand.start + stand.end) / 2),
    lo: show(stand.drawA - stand.drawUA),
    hi: show(stand.drawA + stand.drawUA),
    y: show(stand.drawA),
    label: quantityPm(stand.drawA, stand.drawUA, 'A', words),
  }));
  const highestFirst = [...points].sort((a, b) => b.y - a.y);
  const labels = withRoom(highestFirst, ({ middle }) => pxAlong(middle, domainX, PLOT));
  const at = { ...x, field: 'middle' };
  const layer = [
    {
      mark: { type: 'rect', color: BLUE_PALE },
      encoding: { x, x2: { field: 'end' }, y: yOf('lo'), y2: { field: 'hi' } },
    },
    { mark: { type: 'rule', color: BLUE, strokeWidth: 2 }, encoding: { x, x2: { field: 'end' }, y: yOf('y') } },
    ...(limit ? limitLine(yOf('y'), show(limit.value), limitWords(limit.value, 'A', words)) : []),
    {
      data: rows(labels),
      mark: { type: 'text', baseline: 'top', dy: 4 },
      encoding: { x: at, y: yOf('lo'), text: { field: 'label' } },
    },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'parked-draw',
    title,
    spec: topLevel(
      title,
      panel({
        title: `${words.say('axis.draw')}, ${shown.unit}`,
        note: words.say('note.parked-draw'),
        height: 190,
        data: rows(points),
        layer,
      }),
    ),
    altFacts: {
      stands: stands.length,
      lowestA: Math.min(...stands.map((s) => s.drawA)),
      highestA: Math.max(...stands.map((s) => s.drawA)),
      limitA: limit?.value ?? null,
    },
  };
}
