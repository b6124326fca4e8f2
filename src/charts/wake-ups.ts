/** Wakes by the time of day, one row a day: a wake by the clock stands out as an upright line, a timer as a comb. The dearest pattern is told from the rest. */

import type { Span } from '../analysis/model.ts';
import { wakePatterns } from '../measures/wakes/patterns.ts';
import { wakeParts } from '../measures/wakes/wake-parts.ts';
import { type Draft, panel, type Subject, topLevel, valueX } from './chart.ts';
import { byDay } from './drawing/by-day.ts';
import { laneMark, laneY, visible } from './drawing/lanes.ts';
import { BLUE_PALE, INK, ORANGE } from './drawing/theme.ts';

export const name = 'wake-ups';
const DAY_S = 86_400;
const HOURS = [0, 3, 6, 9, 12, 15, 18, 21, 24];
/** Rows grow thinner in a long log; past this many days the last ones are shown. */
const MOST_DAYS = 40;

export function wakeUps(subject: Subject): Draft | null {
  const { analysis, session, words, clock } = subject;
  if (analysis.wakes.length === 0) return null;
  const lastDay = clock.dayNumber(analysis.end);
  const firstDay = Math.max(clock.dayNumber(analysis.start), lastDay - MOST_DAYS + 1);
  const days = Array.from({ length: lastDay - firstDay + 1 }, (_, k) => firstDay + k);
  const rowPx = Math.max(8, Math.min(18, Math.round(320 / days.length)));
  const asleep = byDay(
    analysis.periods.filter(({ kind }) => kind === 'asleep' || kind === 'awake'),
    clock,
  );
  const { wakes } = analysis;
  const parts = wakeParts(analysis, session);
  const patterns = wakePatterns(analysis, session);
  const dearest = new Set(patterns[0]?.parts ?? parts.keys());
  const awake = (isDearest: boolean) =>
    byDay(
      parts
        .filter((_, k) => dearest.has(k) === isDearest)
        .map(({ start, seconds }) => ({ start, end: start + seconds })),
      clock,
    );
  const x = valueX(
    't',
    { values: HOURS.map((hour) => hour * 3600), labels: HOURS.map((hour) => `${String(hour).padStart(2, '0')}:00`) },
    [0, DAY_S],
    words.say('axis.local_time', { zone: clock.zone }),
  );
  const every = Math.ceil(days.length / 20);
  const y = laneY(days.map((day, k) => (k % every === 0 ? clock.day(clock.dayStart(day)) : '')));
  const lanes = (spans: ReadonlyMap<number, readonly Span[]>, color: string, thicknessPx: number) =>
    days.map((day, lane) => ({
      ...laneMark(visible(spans.get(day) ?? [], 0, DAY_S), lane, Math.round, color, thicknessPx),
      encoding: { x, y },
    }));
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'wake-ups',
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.wakes'),
        note: dearest.size < parts.length ? words.say('note.wake-patterns') : words.say('note.wake-ups'),
        height: rowPx * days.length,
        layer: [
          ...lanes(asleep, BLUE_PALE, 2),
          ...lanes(awake(true), ORANGE, rowPx - 4),
          ...lanes(awake(false), INK, rowPx - 4),
        ],
      }),
    ),
    altFacts: { wakes: wakes.length, days: days.length, patterns: patterns.length },
  };
}
