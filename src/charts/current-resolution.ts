/** Single readings of an hour asleep (parked, where no sleep was told) beside the limit, and the draws about it that this sensor cannot judge. */
import type { Analysis, Period, PeriodKind } from '../analysis/model.ts';
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { mostBy } from '../measures/spans.ts';
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
import { limitWords, numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, GRID, ORANGE_PALE } from './drawing/theme.ts';
import { someOf } from './drawing/thinned.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'current-resolution';
const SHOWN_S = 3600;
const MOST_READINGS = 120;
/** More lines than this would be a grey area. */
const MOST_STEPS = 30;

/** From the middle of the longest sleep. Null where all is well, or nothing was parked. */
export function currentResolution(subject: Subject): Draft | null {
  const { analysis, findings, words, clock } = subject;
  const finding = findingOf(findings, name);
  const limit = finding?.limit;
  const openFromA = factOf(finding, 'openFromA');
  const openToA = factOf(finding, 'openToA');
  const slept = longest(analysis, 'asleep') ?? longest(analysis, 'settling') ?? longest(analysis, 'awake');
  if (!limit || openFromA === null || openToA === null || !slept || finding.status === 'clear') return null;
  const middle = (slept.start + slept.end) / 2;
  const from = Math.max(slept.start, middle - SHOWN_S / 2);
  const to = Math.min(slept.end, middle + SHOWN_S / 2);
  const { tiles, resolution } = analysis;
  const chosen = tilesIn(analysis, [slept.kind]).filter(
    (k) => tiles.t0[k] >= from && tiles.t1[k] <= to && !Number.isNaN(tiles.i[k]),
  );
  if (chosen.length === 0) return null;
  // The lowest and highest of a tile are readings as the logger wrote them.
  const readings = someOf(chosen, MOST_READINGS / 2).flatMap((k) =>
    [tiles.iMin[k], tiles.iMax[k]].map((amps) => ({ t: clock.x(tiles.t0[k]), y: rounded(-1000 * amps) })),
  );
  const shown = readings.map(({ y }) => y);
  const { values, domain } = niceTicks(Math.min(0, ...shown), Math.max(1050 * openToA, ...shown), 5);
  const steps = stepsWithin(1000 * resolution.i, domain);
  const x = timeX(subject, from, to);
  const y = (field: string) => valueY(field, numberTicks(values, words), domain);
  const open = { y: rounded(1000 * openFromA), end: rounded(1000 * openToA) };
  const title = words.say(`title.${name}`);
  const layer = [
    {
      data: rows([open]),
      mark: { type: 'rect', color: ORANGE_PALE, opacity: 0.6 },
      encoding: { y: y('y'), y2: { field: 'end' } },
    },
    { data: rows(steps), mark: { type: 'rule', color: GRID }, encoding: { y: y('y') } },
    ...limitLine(y('y'), rounded(1000 * limit.value), limitWords(limit.value, 'A', words)),
    {
      data: rows(readings),
      mark: { type: 'point', shape: 'circle', filled: true, size: 14, color: BLUE, opacity: 0.8 },
      encoding: { x, y: y('y') },
    },
  ];
  const heading = { title: words.say('axis.draw_ma'), note: words.say('note.current-resolution'), height: 170 };
  return {
    name,
    check: name,
    title,
    spec: topLevel(title, panel({ ...heading, layer })),
    altFacts: { limitA: limit.value, openFromA, openToA, stepA: resolution.i },
  };
}

function longest(analysis: Analysis, sought: PeriodKind): Period | undefined {
  return mostBy(
    analysis.periods.filter(({ kind }) => kind === sought),
    ({ start, end }) => end - start,
  );
}

/** Values that the logger can write, where there is room to tell them apart. */
function stepsWithin(step: number, [low, high]: readonly [number, number]): { readonly y: number }[] {
  if (!(step > 0) || (high - low) / step > MOST_STEPS) return [];
  const first = Math.ceil(low / step);
  return Array.from({ length: Math.floor(high / step) - first + 1 }, (_, k) => ({ y: rounded((first + k) * step) }));
}
