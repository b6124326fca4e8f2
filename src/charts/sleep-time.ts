/** Settling after every key-off, laid over each other: draw against the time since. */
import type { Stand } from '../analysis/model.ts';
import {
  type Draft,
  factOf,
  findingOf,
  limitUpright,
  panel,
  rows,
  type Subject,
  topLevel,
  valueX,
  valueY,
} from './chart.ts';
import { limitWords, numberTicks, quantity, rounded, shownAs } from './drawing/numbers.ts';
import { BLUE, ORANGE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, tilesToColumns } from './drawing/tiles-to-columns.ts';

export const name = 'sleep-time';
const LEAST_SHOWN_A = 0.001;
const DECADES_A = [0.001, 0.01, 0.1, 1, 10, 100, 1000];
/** Columns and stands enough to see the shape by; the slowest, and the one told, are always among them. */
const COLUMNS = 160;
const MOST_STANDS = 20;
const LONGEST_S = 6 * 3600;
const LINE_PX = 14;

export function sleepTime(subject: Subject): Draft | null {
  const { analysis, findings, words, clock } = subject;
  if (!analysis.has.current) return null;
  const finding = findingOf(findings, 'sleep-time');
  // The finding tells of the slowest, or of the one that took most until it slept.
  const costliestT = factOf(finding, 'mostT');
  const stands = analysis.stands
    .filter((stand) => stand.keyOffInLog && stand.countedS > 0)
    .sort((a, b) => Number(a.start === costliestT) - Number(b.start === costliestT) || settledS(a) - settledS(b))
    .slice(-MOST_STANDS);
  if (stands.length === 0) return null;

  const limit = finding?.limit;
  const seen = stands.map((stand) => Math.min(settledS(stand), LONGEST_S));
  const spanS = Math.max(1.3 * Math.max(...seen), 1.4 * (limit?.value ?? 0), 600);
  const shown = shownAs('s', spanS, words);
  const told = stands[stands.length - 1];
  const curves = stands.map((stand) => ({ stand, points: curveOf(subject, stand, spanS, shown.factor) }));
  const draws = curves.flatMap(({ points }) => points.map((point) => point.y ?? Number.NaN)).filter((a) => a > 0);
  if (draws.length === 0) return null;
  const top = DECADES_A.find((a) => a >= Math.max(...draws)) ?? 1000;
  const bottom = DECADES_A.findLast((a) => a <= Math.min(...draws)) ?? LEAST_SHOWN_A;

  const decades = DECADES_A.filter((a) => a >= bottom && a <= top);
  const y = valueY('y', { values: decades, labels: decades.map((a) => quantity(a, 'A', words)) }, [bottom, top], {
    type: 'log',
  });
  const ticks = niceTicks(0, spanS * shown.factor, 8).values.filter((value) => value <= spanS * shown.factor);
  const x = valueX(
    't',
    numberTicks(ticks, words),
    [0, rounded(spanS * shown.factor)],
    `${words.say('axis.since_key_off')}, ${shown.unit}`,
  );
  const ends = stands.flatMap((stand) => {
    if (stand.timeToSleepS === null || stand.timeToSleepS > spanS) return [];
    const drawA = Math.max(stand.sleepDrawA?.value ?? LEAST_SHOWN_A, bottom);
    return [{ t: rounded(stand.timeToSleepS * shown.factor), y: rounded(drawA), told: stand === told }];
  });
  const label = {
    t: rounded(Math.min(settledS(told), spanS * 0.98) * shown.factor),
    y: rounded(Math.max(told.sleepDrawA?.value ?? told.meanDrawA?.value ?? bottom, bottom)),
    label: [
      `${clock.day(told.start)}, ${clock.time(told.start)}`,
      told.timeToSleepS === null
        ? words.say('mark.not_asleep')
        : words.say('mark.asleep_after', { time: quantity(told.timeToSleepS, 's', words) }),
    ],
  };
  const labelRight = settledS(told) < spanS * 0.7;
  const layer = [
    ...(limit
      ? limitUpright(x, rounded(limit.value * shown.factor), limitWords(limit.value, 's', words).join(' '))
      : []),
    ...curves.map(({ stand, points }) => ({
      data: rows(points.map(({ t, y: drawA }) => ({ t, y: drawA }))),
      mark: {
        type: 'line',
        color: stand === told ? ORANGE : BLUE,
        strokeWidth: stand === told ? 2 : 1,
        opacity: stand === told ? 1 : 0.55,
        clip: true,
      },
      encoding: { x, y },
    })),
    {
      data: rows(ends),
      mark: { type: 'point', shape: 'circle', size: 45, filled: true, opacity: 1 },
      encoding: { x, y, color: { condition: { test: 'datum.told', value: ORANGE }, value: BLUE } },
    },
    {
      data: rows([label]),
      mark: {
        type: 'text',
        align: labelRight ? 'left' : 'right',
        baseline: 'bottom',
        dx: labelRight ? 8 : -8,
        dy: -8 - LINE_PX,
        fontWeight: 600,
        lineHeight: LINE_PX,
      },
      encoding: { x, y, text: { field: 'label' } },
    },
  ];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'sleep-time',
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.draw'),
        note: words.say(told.start === costliestT ? 'note.sleep-time-costly' : 'note.sleep-time'),
        height: 220,
        layer,
      }),
    ),
    altFacts: {
      stands: stands.length,
      toldS: told.timeToSleepS,
      toldT: told.start,
      limitS: limit?.value ?? null,
    },
  };
}

/** How long it took to sleep, or was seen without sleep. */
const settledS = (stand: Stand) => stand.timeToSleepS ?? stand.countedS;

function curveOf({ analysis }: Subject, stand: Stand, spanS: number, factor: number) {
  const { tiles } = analysis;
  const until = Math.min(stand.end, stand.start + spanS);
  const runs = tilesToColumns(tiles, { mean: tiles.i, min: tiles.i, max: tiles.i }, stand.start, until, COLUMNS);
  const sinceKeyOff = (s: number) => rounded(Math.max(0, s - stand.start) * factor, 5);
  // A log axis has no zero: what is less than the least, or charging, is drawn at the least.
  return bandPoints(runs, sinceKeyOff, (amps) => rounded(Math.max(-amps, LEAST_SHOWN_A)));
}
