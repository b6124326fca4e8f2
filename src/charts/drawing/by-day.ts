/** Spans cut at local midnights. */
import type { Span } from '../../analysis/model.ts';
import type { SessionClock } from './session-clock.ts';

const DAY_S = 86_400;

/** By the number of the day, as s of the day by the local clock. */
export function byDay(spans: readonly Span[], clock: SessionClock): ReadonlyMap<number, Span[]> {
  const days = new Map<number, Span[]>();
  for (const { start, end } of spans) {
    for (let day = clock.dayNumber(start); day <= clock.dayNumber(end); day++) {
      const from = day === clock.dayNumber(start) ? clock.secondOfDay(start) : 0;
      const to = day === clock.dayNumber(end) ? clock.secondOfDay(end) : DAY_S;
      const own = days.get(day);
      if (own) own.push({ start: from, end: to });
      else days.set(day, [{ start: from, end: to }]);
    }
  }
  return days;
}
