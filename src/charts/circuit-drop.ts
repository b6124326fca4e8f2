/** What a cable or ground loses against what flows through it, the starter's steady draw marked, and what it may lose there. */
import { pathDrops } from '../measures/path-drop.ts';
import {
  type Draft,
  factOf,
  findingOf,
  limitLine,
  panel,
  rows,
  type Subject,
  topLevel,
  valueX,
  valueY,
} from './chart.ts';
import { numberTicks, quantity, rounded } from './drawing/numbers.ts';
import { BLUE, ORANGE } from './drawing/theme.ts';
import { someOf } from './drawing/thinned.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'circuit-drop';
const MOST_POINTS = 150;
/** Of the steady draw: the inrush beyond it would crowd what is judged. */
const SHOWN_TO = 1.6;

/** Of the worst channel. Null where none of them saw a load. */
export function circuitDrop({ analysis, session, findings, words }: Subject): Draft | null {
  const finding = findingOf(findings, name);
  const measured = finding?.measured;
  const limit = finding?.limit;
  const c = session.log.channels.findIndex(({ label }) => label === finding?.facts?.channel);
  const drop = c < 0 ? null : pathDrops(analysis, session)[c];
  if (!drop || !measured || !limit) return null;
  const { loadA } = drop;
  const shown = drop.points.filter(({ amps }) => amps <= SHOWN_TO * loadA);
  const points = someOf(shown, MOST_POINTS).map(({ amps, volts }) => ({ t: rounded(amps), y: rounded(volts) }));
  const mostA = Math.max(loadA, ...points.map(({ t }) => t));
  const U = measured.uncertainty ?? 0;
  const mark = {
    t: rounded(loadA),
    y: rounded(measured.value),
    lo: rounded(measured.value - U),
    hi: rounded(measured.value + U),
  };
  const line = [
    { t: 0, y: 0 },
    { t: rounded(mostA), y: rounded(drop.ohm.value * mostA) },
  ];
  const amps = niceTicks(0, 1.05 * mostA, 7);
  const volts = niceTicks(0, Math.max(1.1 * limit.value, mark.hi, ...points.map(({ y }) => y)), 5);
  const x = valueX('t', numberTicks(amps.values, words), amps.domain, words.say('axis.draw_a'));
  const y = (field: string) => valueY(field, numberTicks(volts.values, words), volts.domain);
  const groundV = factOf(finding, 'groundV');
  // Beside more than a cable may lose, what a ground may is of no account.
  const limits = [
    { value: limit.value, label: words.say('mark.cable') },
    ...(groundV === null || measured.value > limit.value ? [] : [{ value: groundV, label: words.say('mark.ground') }]),
  ];
  const title = words.say(`title.${name}`);
  const layer = [
    ...limits.flatMap(({ value, label }) => limitLine(y('y'), rounded(value), [label, quantity(value, 'V', words)])),
    { data: rows(line), mark: { type: 'line', color: BLUE, strokeWidth: 1 }, encoding: { x, y: y('y') } },
    {
      data: rows(points),
      mark: { type: 'point', shape: 'circle', size: 28, color: BLUE, opacity: 0.7 },
      encoding: { x, y: y('y') },
    },
    {
      data: rows([mark]),
      mark: { type: 'rule', color: ORANGE, strokeWidth: 1.6 },
      encoding: { x, y: y('lo'), y2: { field: 'hi' } },
    },
    {
      data: rows([mark]),
      mark: { type: 'point', shape: 'diamond', filled: true, size: 90, color: ORANGE, opacity: 1 },
      encoding: { x, y: y('y') },
    },
  ];
  const heading = { title: words.say('axis.drop'), note: words.say('note.circuit-drop'), height: 190 };
  return {
    name,
    check: name,
    title,
    spec: topLevel(title, panel({ ...heading, layer })),
    altFacts: { ohm: drop.ohm.value, loadA, dropV: measured.value, limitV: limit.value },
  };
}
