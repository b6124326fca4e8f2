/** What the vehicle did, one row a day by the hour: its week at one look. The busier, the thicker, so that it reads without colour. */
import type { PeriodKind, Span } from '../analysis/model.ts';
import { topUps } from '../measures/portrait/top-ups.ts';
import { type Draft, panel, type Scene, topLevel, valueX } from './chart.ts';
import { byDay } from './drawing/by-day.ts';
import { laneMark, laneY, visible } from './drawing/lanes.ts';
import { kindWord } from './drawing/period-lanes.ts';
import { BLUE, BLUE_PALE, GREY, INK, ORANGE, ORANGE_PALE } from './drawing/theme.ts';

export const name = 'portrait-day';
const DAY_S = 86_400;
const HOURS = [0, 3, 6, 9, 12, 15, 18, 21, 24];
/** Rows grow thinner in a long log; past this many days the last ones are shown. */
const MOST_DAYS = 40;

/** From the quietest to the busiest: colour, and share of the row's height. */
const KINDS: readonly (readonly [PeriodKind | 'top-up', string, number])[] = [
  ['asleep', BLUE_PALE, 0.15],
  ['settling', ORANGE_PALE, 0.45],
  ['awake', ORANGE, 0.45],
  ['on-charger', GREY, 0.7],
  ['unknown', GREY, 0.7],
  ['top-up', BLUE, 0.7],
  ['key-on', GREY, 0.9],
  ['driving', INK, 0.9],
];

export function portraitDay(scene: Scene): Draft | null {
  const { analysis, session, words, clock } = scene;
  if (!(analysis.end > analysis.start)) return null;
  const lastDay = clock.dayNumber(analysis.end);
  const firstDay = Math.max(clock.dayNumber(analysis.start), lastDay - MOST_DAYS + 1);
  const days = Array.from({ length: lastDay - firstDay + 1 }, (_, k) => firstDay + k);
  const rowPx = Math.max(8, Math.min(20, Math.round(340 / days.length)));
  const x = valueX(
    't',
    { values: HOURS.map((hour) => hour * 3600), labels: HOURS.map((hour) => `${String(hour).padStart(2, '0')}:00`) },
    [0, DAY_S],
    words.say('axis.local_time', { zone: clock.zone }),
  );
  const every = Math.ceil(days.length / 20);
  const y = laneY(days.map((day, k) => (k % every === 0 ? clock.day(clock.dayStart(day)) : '')));
  const spansOf = (kind: PeriodKind | 'top-up'): readonly Span[] =>
    kind === 'top-up'
      ? topUps(analysis, session).all
      : analysis.periods.filter((period) => period.kind === kind || (kind === 'driving' && period.kind === 'cranking'));
  const shown = KINDS.map(([kind, color, share]) => ({ kind, color, share, spans: spansOf(kind) })).filter(
    ({ spans }) => spans.length > 0,
  );
  const layer = shown.flatMap(({ color, share, spans }) => {
    const own = byDay(spans, clock);
    return days.map((day, lane) => ({
      ...laneMark(visible(own.get(day) ?? [], 0, DAY_S), lane, Math.round, color, Math.round(share * rowPx)),
      encoding: { x, y },
    }));
  });
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.portrait_day'),
        note: shown.map(({ kind }) => kindWord(kind, words)).join(', '),
        height: rowPx * days.length,
        layer,
      }),
    ),
    altFacts: { days: days.length, drives: analysis.drives.length },
  };
}
