/**
 * Where voltage and current lay in each state, as shapes of their time: milliamperes and hundreds of amperes on one axis. Each shape
 * is as high as its own highest place; the mark is the median.
 */
import type { Distribution } from '../measures/portrait/distribution.ts';
import { portraitStates, type StateShown } from '../measures/portrait/states.ts';
import { type Draft, panel, rows, type Scene, topLevel, valueX } from './chart.ts';
import { laneY } from './drawing/lanes.ts';
import { numberTicks, quantity, rounded, short } from './drawing/numbers.ts';
import { kindWord } from './drawing/period-lanes.ts';
import { BLUE, BLUE_PALE, PLOT } from './drawing/theme.ts';
import { niceTicks, type Ticks } from './drawing/ticks.ts';
import type { Words } from './drawing/words.ts';

export const name = 'portrait-states';
const LANE_PX = 26;
const LINEAR_A = 0.003;
const COLUMNS = 160;
/** Of the least and most of the time nothing is shown. */
const EDGE = 0.001;

export function portraitStatesChart(scene: Scene): Draft | null {
  const { analysis, session, words } = scene;
  const states = portraitStates(analysis, session).filter(({ kind }) => kind !== 'disconnected');
  if (states.length === 0) return null;
  const title = words.say(`title.${name}`);
  const panels = [currentPanel(states, words), voltagePanel(states, words)];
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, { vconcat: panels.filter((part) => part !== null) }),
    altFacts: { states: states.length },
  };
}

function currentPanel(states: readonly StateShown[], words: Words) {
  const known = states.filter(({ current }) => current !== null);
  if (known.length === 0) return null;
  const ends = known.flatMap(({ current }) => [current?.quantile(EDGE) ?? 0, current?.quantile(1 - EDGE) ?? 0]);
  const domain = [Math.min(1.5 * Math.min(...ends), -0.02), Math.max(1.5 * Math.max(...ends), 0.02)] as const;
  const decades = [0.01, 0.1, 1, 10, 100, 1000];
  const values = [...decades.map((a) => -a).reverse(), 0, ...decades].filter((a) => a >= domain[0] && a <= domain[1]);
  const labels = values.map((a) => (a === 0 ? '0' : `${a < 0 ? '−' : '+'}${quantity(Math.abs(a), 'A', words)}`));
  return shapes({
    states: known,
    words,
    heading: words.say('axis.current'),
    note: words.say('note.portrait-states'),
    domain,
    ticks: { values, labels },
    scale: { type: 'symlog', constant: LINEAR_A },
    to: (amps) => Math.asinh(amps / (2 * LINEAR_A)),
    from: (place) => 2 * LINEAR_A * Math.sinh(place),
    of: ({ current }) => current,
    label: (amps) => `${amps > 0 ? '+' : ''}${quantity(amps, 'A', words).replace('-', '−')}`,
  });
}

function voltagePanel(states: readonly StateShown[], words: Words) {
  const ends = states.flatMap(({ voltage }) => [voltage.quantile(EDGE), voltage.quantile(1 - EDGE)]);
  const { values, domain } = niceTicks(Math.min(...ends), Math.max(...ends), 9);
  return shapes({
    states,
    words,
    heading: words.say('axis.voltage'),
    note: '',
    domain,
    ticks: numberTicks(values, words),
    scale: {},
    to: (volts) => volts,
    from: (place) => place,
    of: ({ voltage }) => voltage,
    label: (volts) => `${short(volts, words, 4)}\u00a0V`,
  });
}

function shapes(parts: {
  readonly states: readonly StateShown[];
  readonly words: Words;
  readonly heading: string;
  readonly note: string;
  readonly domain: readonly [number, number];
  readonly ticks: Ticks;
  readonly scale: object;
  /** To the places along the axis, which are even there, and back. */
  readonly to: (value: number) => number;
  readonly from: (place: number) => number;
  readonly of: (state: StateShown) => Distribution | null;
  readonly label: (value: number) => string;
}) {
  const { states, words, domain, ticks } = parts;
  const base = valueX('t', ticks, domain, '');
  const x = { ...base, scale: { ...base.scale, ...parts.scale } };
  const y = laneY(states.map(({ kind }) => kindWord(kind, words)));
  const layer = states.flatMap((state, lane) => {
    const found = parts.of(state);
    if (!found) return [];
    const heights = heightsOf(found, [parts.to(domain[0]), parts.to(domain[1])], parts.to);
    const points = heights.flatMap((height, k) => {
      const near = height > 0 || (heights[k - 1] ?? 0) > 0 || (heights[k + 1] ?? 0) > 0;
      const place = parts.to(domain[0]) + ((k + 0.5) / COLUMNS) * (parts.to(domain[1]) - parts.to(domain[0]));
      return near
        ? [{ t: rounded(parts.from(place)), lane: rounded(lane + 0.45 - 0.85 * height), base: lane + 0.45 }]
        : [];
    });
    const middle = found.quantile(0.5);
    return [
      {
        data: rows(points),
        mark: { type: 'area', color: BLUE_PALE, line: { color: BLUE, strokeWidth: 0.8 }, clip: true },
        encoding: { x, y, y2: { field: 'base' } },
      },
      {
        data: rows([{ t: rounded(middle), lane: lane + 0.45, base: lane - 0.4 }]),
        mark: { type: 'rule', strokeWidth: 1.6 },
        encoding: { x, y, y2: { field: 'base' } },
      },
      {
        data: rows([{ lane: lane + 0.1, label: parts.label(middle) }]),
        mark: { type: 'text', align: 'left', baseline: 'middle', dx: 8, fontWeight: 600 },
        encoding: { x: { value: PLOT }, y, text: { field: 'label' } },
      },
    ];
  });
  return panel({ title: parts.heading, note: parts.note, height: LANE_PX * states.length, layer });
}

/** Share of the time by column of the axis, the highest 1. */
function heightsOf(found: Distribution, [from, to]: readonly [number, number], place: (value: number) => number) {
  const heights = new Array<number>(COLUMNS).fill(0);
  for (const { value, seconds } of found.held()) {
    const at = Math.floor(((place(value) - from) / (to - from)) * COLUMNS);
    if (at >= 0 && at < COLUMNS) heights[at] = (heights[at] ?? 0) + seconds;
  }
  const most = Math.max(...heights);
  return heights.map((height) => (most > 0 ? height / most : 0));
}
