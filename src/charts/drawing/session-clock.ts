/**
 * Time axes in the session's zone, whatever zone the computer is in. Vega gets a UTC scale and times shifted beforehand by
 * the offset that held when the log began, so the axis runs as evenly as time does; ticks are put where the local clock
 * shows the hour, so they stay right after a clock change too.
 */
import { zoneOf } from '../../base/zone.ts';
import type { Ticks } from './ticks.ts';
import type { Words } from './words.ts';

const MINUTE_MS = 60_000;
const DAY_MS = 86_400_000;
const STEPS_MIN = [1, 2, 5, 10, 15, 30, 60, 120, 180, 360, 720];
const STEPS_DAY = [1, 2, 7, 14, 28];

export interface TimeTicks extends Ticks {
  /** True where at least one label is a day. */
  readonly sayDay: boolean;
}

export interface SessionClock {
  /** IANA name. */
  readonly zone: string;
  /** s since the epoch to ms on the axis. */
  x(s: number): number;
  /** `Tue 3 Mar` and `18:20` at an instant (s since the epoch). */
  day(s: number): string;
  time(s: number): string;
  /** The local clock's reading as s since its midnight, and its date as a number that grows by one a day. */
  secondOfDay(s: number): number;
  dayNumber(s: number): number;
  /** s since the epoch at which a local day begins. */
  dayStart(dayNumber: number): number;
  ticks(fromS: number, toS: number, most: number): TimeTicks;
}

/** `startS`: where the log begins, s since the epoch. Throws UserError for an unknown zone name. */
export function sessionClock(timezone: string, startS: number, words: Words): SessionClock {
  const zone = zoneOf(timezone);
  const shiftMs = zone.offsetMs(startS * 1000);
  const x = (s: number) => Math.round(s * 1000 + shiftMs);
  const wallMs = (s: number) => s * 1000 + zone.offsetMs(s * 1000);
  /** A wall-clock time that the clock skipped has no tick of its own; the instant after the change stands for it. */
  const instantS = (wall: number) => {
    const { candidates, shifted } = zone.localToUtc(wall);
    return (candidates[0] ?? (shifted as number)) / 1000;
  };
  const dayNumber = (s: number) => Math.floor(wallMs(s) / DAY_MS);
  const dayStart = (day: number) => instantS(day * DAY_MS);

  const day = (s: number) => words.day(wallMs(s));
  const time = (s: number) => new Date(wallMs(s)).toISOString().slice(11, 16);

  function ticks(fromS: number, toS: number, most: number): TimeTicks {
    const spanMs = (toS - fromS) * 1000;
    const steps = [...STEPS_MIN.map((minutes) => minutes * MINUTE_MS), ...STEPS_DAY.map((days) => days * DAY_MS)];
    const stepMs = steps.find((step) => spanMs / step <= most) ?? Math.ceil(spanMs / most / DAY_MS) * DAY_MS;
    // Steps of days are counted from the first day, shorter ones from midnight.
    const anchorMs = dayNumber(fromS) * DAY_MS;
    const at: number[] = [];
    for (let wall = anchorMs; wall <= wallMs(toS); wall += stepMs) {
      const s = instantS(wall);
      if (s >= fromS && s <= toS) at.push(s);
    }
    const isDay = (s: number) => time(s) === '00:00' || stepMs >= DAY_MS;
    return { values: at.map(x), labels: at.map((s) => (isDay(s) ? day(s) : time(s))), sayDay: at.some(isDay) };
  }

  const secondOfDay = (s: number) => wallMs(s) / 1000 - (dayNumber(s) * DAY_MS) / 1000;
  return { zone: zone.name, x, day, time, secondOfDay, dayNumber, dayStart, ticks };
}
