/**
 * Stands compared with each other: in which ones a load stayed on that takes the vehicle over the limit, what it draws, and
 * what was different before those.
 */
import type { Analysis, Stand } from '../../analysis/model.ts';
import { tileAt } from '../../analysis/tiles/tiles.ts';
import { zoneOf } from '../../base/zone.ts';
import { median } from '../../battery/statistics.ts';
import { decide } from '../../battery/uncertainty.ts';
import type { Session } from '../../manifest/session.ts';
import { circuitOnDuring } from '../circuits-on.ts';
import { limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { expandedU } from '../sensor.ts';
import { mostBy, total } from '../spans.ts';
import { PARKED_DRAW, SLEEP_WITHIN, sleepers } from '../stands.ts';
import { type HeldLoad, heldLoads } from './held-loads.ts';
import { levelOf, sleepingLevel } from './sleeping-level.ts';

/** A late shutdown, or somebody in the vehicle, takes no longer than this many times the time within which it must sleep. Common practice, no source. */
const TIMES_WITHIN = 4;
/** More than this into the battery is no sensor's zero, A. */
const HIDDEN_A = 0.05;
/** A note so near to the begin of a stand may tell of it, s. */
const NOTE_BEFORE_S = 1800;
const NOTE_AFTER_S = 3600;

/** Middle of the stands with the load, and of the others; the ranges of both do not meet. */
export interface Difference {
  readonly withLoad: number;
  readonly others: number;
}

export interface StandsCompared {
  /** In order of time, at least one. */
  readonly loads: readonly HeldLoad[];
  readonly longest: HeldLoad;
  /** Stands long enough to show one, and those of them with one. */
  readonly stands: number;
  readonly withLoad: number;
  /** What it draws asleep; and the load, above that, on the mean over its time, A. */
  readonly sleepA: number;
  readonly loadA: number;
  readonly chargeAh: number;
  /** That was on with the load and hardly ever in sleep. */
  readonly channel: string | null;
  /** Length of the drive before, s, and temperature at the begin of the load, °C, where they differ. */
  readonly driveS: Difference | null;
  readonly temperatureC: Difference | null;
  /** When one began, where all were on one day of the week and no stand without them was; null where they were not. */
  readonly weekdayT: number | null;
  /** When it first began, where it comes each day at the same time; null where it does not. */
  readonly dailyT: number | null;
  /** What the technician noted when the longest began. */
  readonly note: string | null;
}

/** Null without such a load, or where the vehicle never slept: then nothing says what would be right. */
export const standsCompared = measure((analysis, session): StandsCompared | null => {
  const level = sleepingLevel(analysis, session);
  const limitA = limitOf(PARKED_DRAW, session).value;
  const leastS = TIMES_WITHIN * limitOf(SLEEP_WITHIN, session).value;
  const loads = heldLoads(analysis, session).filter((load) => {
    const stand = analysis.stands[load.stand];
    if (!stand || (load.until === 'within' && load.seconds < leastS)) return false;
    const value = levelOf(stand, level) + load.meanA;
    const U = expandedU(stand.meanDrawA ?? { u: 0 });
    return decide({ value, U, limit: limitA, side: 'max' }) === 'beyond';
  });
  const longest = mostBy(loads, (load) => load.seconds);
  // A level into the battery is not what a vehicle sleeps at: something hides it.
  if (!longest || level.usualA === null || level.usualA < -HIDDEN_A) return null;
  const withOne = new Set(loads.map((load) => load.stand));
  const shown = analysis.stands
    .map((stand, at) => ({ stand, isWith: withOne.has(at), load: loads.find((load) => load.stand === at) }))
    .filter(({ stand, isWith }) => isWith || stand.countedS >= level.settleS + 3600);
  const seconds = total(loads, (load) => load.seconds);
  const asleep = analysis.periods.filter(({ kind }) => kind === 'asleep');
  return {
    loads,
    longest,
    stands: shown.length,
    withLoad: withOne.size,
    sleepA: asleepA(analysis) ?? level.usualA,
    loadA: total(loads, (load) => load.meanA * load.seconds) / seconds,
    chargeAh: total(loads, (load) => load.chargeAh),
    channel: circuitOnDuring(analysis, session, loads, asleep),
    driveS: difference(shown, ({ stand }) => driveBefore(analysis, stand)),
    temperatureC: difference(shown, ({ stand, load }) => temperatureAt(analysis, load?.start ?? stand.start)),
    weekdayT: weekdayOf(loads, shown, session),
    dailyT: dailyOf(loads),
    note: noteAt(session.notes, longest.start),
  };
});

/** By luck two fall on one day of the week in one case of seven; three of the others must be on other days. */
function weekdayOf(
  loads: readonly HeldLoad[],
  shown: readonly { readonly stand: Stand; readonly isWith: boolean }[],
  { timezone }: Session,
): number | null {
  const zone = zoneOf(timezone);
  const dayOf = (t: number) => Math.floor((t + zone.offsetMs(t * 1000) / 1000) / DAY_S);
  const days = new Set(loads.map(({ start }) => dayOf(start)));
  const weekdays = new Set([...days].map((day) => day % 7));
  const others = shown.filter(({ isWith }) => !isWith).map(({ stand }) => dayOf(stand.start) % 7);
  const isOne = days.size >= 2 && weekdays.size === 1 && others.length >= 3 && !others.some((day) => weekdays.has(day));
  return isOne ? (loads[0]?.start ?? null) : null;
}

/** So many days in a row, and so near to the same time of day, are a habit: by luck 3 of 3 within an hour are fewer than one case of a hundred. */
const LEAST_DAYS = 3;
const SAME_TIME_S = 1800;
const DAY_S = 86_400;

/** When the first of them began, where they follow each other a day apart. */
function dailyOf(loads: readonly HeldLoad[]): number | null {
  const [first] = loads;
  if (!first || loads.length < LEAST_DAYS) return null;
  const isDaily = loads
    .slice(1)
    .every(({ start }, k) => Math.abs(start - (loads[k]?.start ?? 0) - DAY_S) < SAME_TIME_S);
  return isDaily ? first.start : null;
}

/** The figure that is told as the draw asleep: of all stands with enough sleep, by how long each slept, A. */
function asleepA(analysis: Analysis): number | null {
  const slept = sleepers(analysis);
  const seconds = total(slept, ({ asleepS }) => asleepS);
  return seconds > 0 ? total(slept, ({ sleepDrawA, asleepS }) => sleepDrawA.value * asleepS) / seconds : null;
}

function difference<T extends { readonly isWith: boolean }>(
  shown: readonly T[],
  of: (one: T) => number | null,
): Difference | null {
  const values = (isWith: boolean) => shown.filter((one) => one.isWith === isWith).flatMap((one) => of(one) ?? []);
  const [own, others] = [values(true), values(false)];
  // Of two and two that part by luck one in three do, of two and five one in ten.
  if (own.length < 2 || others.length < 3) return null;
  const apart = Math.min(...own) > Math.max(...others) || Math.max(...own) < Math.min(...others);
  return apart ? { withLoad: median(own), others: median(others) } : null;
}

function driveBefore({ drives }: Analysis, { start, keyOffInLog }: Stand): number | null {
  const drive = keyOffInLog ? drives.findLast(({ end }) => end <= start + 60) : undefined;
  return drive ? drive.end - drive.start : null;
}

function temperatureAt({ tiles }: Analysis, t: number): number | null {
  const found = tiles.temp[tileAt(tiles, t)];
  return found === undefined || Number.isNaN(found) ? null : found;
}

/** What was noted from half an hour before to an hour after; null without it. */
export function noteAt(notes: readonly { readonly atMs: number; readonly text: string }[], t: number): string | null {
  const near = notes.find(({ atMs }) => atMs / 1000 > t - NOTE_BEFORE_S && atMs / 1000 < t + NOTE_AFTER_S);
  return near?.text ?? null;
}
