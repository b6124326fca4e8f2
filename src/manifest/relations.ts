/** What no single key can tell: whether times exist in their zone and follow each other, and whether keys agree with one another. */

import { plainText, shown } from '../base/shown.ts';
import { formatWallClock, type ParsedTime } from '../base/time.ts';
import type { Zone } from '../base/zone.ts';
import type { Sections } from './schema.ts';
import type { Path } from './yaml-tree.ts';

export type Tell = (path: Path, message: string) => void;

/** UTC, ms since the epoch. */
export interface Times {
  readonly startMs?: number;
  readonly fittedAtMs?: number;
  readonly removedAtMs?: number;
  readonly notesMs: readonly number[];
  /** Undefined where the manifest gives a photo no time. */
  readonly photosMs: readonly (number | undefined)[];
}

/** Sections that could not be read are missing here, and what hangs on them is not asked. */
export function settleTimes(sections: Partial<Sections>, zone: Zone | undefined, tell: Tell): Times {
  const at = (time: ParsedTime | undefined, path: Path) =>
    time === undefined ? undefined : instant(time, zone, path, tell);
  const { log, install, notes, photos } = sections;
  const startMs = at(log?.start, ['log', 'start']);
  const fittedAtMs = at(install?.fitted_at, ['install', 'fitted_at']);
  const removedAtMs = at(install?.removed_at, ['install', 'removed_at']);
  if (fittedAtMs !== undefined && removedAtMs !== undefined && removedAtMs <= fittedAtMs) {
    tell(['install', 'removed_at'], 'The logger cannot have been removed before it was fitted (install.fitted_at).');
  }
  const notesMs = (notes ?? []).map((note, index) => at(note.at, ['notes', index, 'at']) ?? Number.NaN);
  const photosMs = (photos ?? []).map((photo, index) =>
    typeof photo === 'string' ? undefined : at(photo.at, ['photos', index, 'at']),
  );
  return { startMs, fittedAtMs, removedAtMs, notesMs, photosMs };
}

function instant(time: ParsedTime, zone: Zone | undefined, path: Path, tell: Tell): number | undefined {
  if (time.offsetMs !== undefined) return time.localMs - time.offsetMs;
  if (zone === undefined) return undefined;
  const { candidates } = zone.localToUtc(time.localMs);
  if (candidates.length === 1) return candidates[0];
  const clock = formatWallClock(time.localMs);
  const offsets = candidates.map((utcMs) => formatOffset(time.localMs - utcMs));
  tell(
    path,
    candidates.length === 0
      ? `${clock} does not exist in ${zone.name}: the clock was set forward over it. Write the time that the clock showed, or an offset.`
      : `${clock} came twice in ${zone.name}, when the clock was set back. Write the offset too: ${offsets.join(' or ')}.`,
  );
  return undefined;
}

function formatOffset(offsetMs: number): string {
  const minutes = Math.abs(offsetMs) / 60_000;
  const two = (value: number) => String(value).padStart(2, '0');
  return `${offsetMs < 0 ? '-' : '+'}${two(Math.floor(minutes / 60))}:${two(minutes % 60)}`;
}

export function checkRelations({ session, log, limits }: Partial<Sections>, tell: Tell): void {
  if (log !== undefined) {
    checkTime(log, tell);
    const format = log.columns.time?.format;
    if (typeof format === 'string' && format.startsWith('elapsed') && log.start === undefined) {
      tell(
        ['log', 'start'],
        'Missing. Elapsed time needs the date and time at which the log began, such as 2026-03-03T17:40:00.',
      );
    }
    if (log.delimiter !== undefined && log.delimiter === log.decimal) {
      tell(
        ['log', 'decimal'],
        `${shown(log.decimal)} cannot both part the columns (log.delimiter) and be the decimal sign.`,
      );
    }
    checkColumns(log, tell);
    log.channels?.forEach((channel, index) => {
      if (channel.active_above === undefined || channel.active_below === undefined) return;
      tell(
        ['log', 'channels', index, 'active_below'],
        'A channel takes either active_above or active_below, not both.',
      );
    });
  }
  if (limits?.from !== undefined && session !== undefined && limits.from.includes(session.id)) {
    tell(['limits', 'from'], `${shown(session.id)} is this session itself. Expected: the id of another, healthy one.`);
  }
  const charging = limits?.charging_voltage;
  if (charging !== undefined && charging.min === undefined && charging.max === undefined) {
    tell(['limits', 'charging_voltage'], 'Missing: min, max or both, such as {min: 13.7 V, max: 14.8 V}.');
  }
  if (charging?.min !== undefined && charging.max !== undefined && charging.min >= charging.max) {
    tell(['limits', 'charging_voltage', 'max'], 'max must be larger than min.');
  }
}

/** Times are read from a column, or counted row by row. */
function checkTime({ columns, step, start }: Sections['log'], tell: Tell): void {
  if (columns.time === undefined && step === undefined) {
    tell(
      ['log', 'columns', 'time'],
      'Missing. Expected: a group with name and format. Where the log has no column of times: log.step, such as 1 s, and log.start.',
    );
  }
  if (columns.time !== undefined && step !== undefined) {
    tell(['log', 'step'], 'The log has a column of times (log.columns.time). Keep one of the two.');
  }
  if (columns.time === undefined && step !== undefined && start === undefined) {
    tell(['log', 'start'], 'Missing. Rows are counted from when the log began, such as 2026-03-03T17:40:00.');
  }
}

type Raw = Readonly<Record<string, unknown>> | undefined;

/**
 * A column is named, or, of a log with a row for each value, `where` and `value` say which rows and where in them; all or none.
 * Looks at what is written, so that a fault beside it hides none of this.
 */
export function checkLong(data: unknown, tell: Tell): void {
  const log = groupOf(groupOf(data)?.log);
  const columns = groupOf(log?.columns);
  if (log === undefined || columns === undefined) return;
  const channels = Array.isArray(log.channels) ? log.channels : [];
  const all: [Path, Raw][] = [
    ...['voltage', 'current', 'temperature'].map((key): [Path, Raw] => [
      ['log', 'columns', key],
      groupOf(columns[key]),
    ]),
    ...channels.map((channel, k): [Path, Raw] => [['log', 'channels', k], groupOf(channel)]),
  ];
  const isLong = groupOf(columns.voltage)?.where !== undefined;
  for (const [path, column] of all) if (column !== undefined) checkRef(path, column, isLong, tell);
  if (isLong && log.hold === undefined) {
    tell(
      ['log', 'hold'],
      'Missing. A value stands until the next, at most this long, such as 10 min: longer than the log ever pauses on its own.',
    );
  }
  if (!isLong && log.hold !== undefined) {
    tell(['log', 'hold'], 'Only where the log has a row for each value (where and value).');
  }
  if (isLong && columns.time === undefined) {
    tell(['log', 'columns', 'time'], 'A log with a row for each value needs its times.');
  }
}

function checkRef(path: Path, { name, where, value }: NonNullable<Raw>, isLong: boolean, tell: Tell): void {
  if (name === undefined && where === undefined) {
    tell(
      [...path, 'name'],
      'Missing. Expected: the name in the header row, or a column number. In a log with a row for each value: where and value.',
    );
  } else if (name !== undefined && where !== undefined) {
    tell([...path, 'where'], 'A column has a name, or where and value. Keep one of the two.');
  } else if (where !== undefined && value === undefined) {
    tell([...path, 'value'], 'Missing. Expected: the column of the value.');
  } else if (where === undefined && value !== undefined) {
    tell([...path, 'value'], 'Only where the log has a row for each value, beside where. A column is named with name.');
  } else if (where !== undefined && Object.keys(groupOf(where) ?? {}).length === 0) {
    tell(
      [...path, 'where'],
      `Found ${shown(where)}. Expected: columns and what they hold, such as {PID: Control module voltage}.`,
    );
  } else if (isLong !== (where !== undefined)) {
    tell(path, 'Either all columns are found by name, or all by where and value.');
  }
}

function groupOf(value: unknown): Raw {
  return typeof value === 'object' && value !== null && !Array.isArray(value) ? (value as Raw) : undefined;
}

function checkColumns(log: Sections['log'], tell: Tell): void {
  const { time, voltage, current, temperature } = log.columns;
  const uses: [Path, string | number | undefined][] = [
    [['log', 'columns', 'time', 'name'], time?.name],
    [['log', 'columns', 'time', 'clock'], time?.clock],
    [['log', 'columns', 'voltage', 'name'], voltage.name],
    [['log', 'columns', 'current', 'name'], current?.name],
    [['log', 'columns', 'temperature', 'name'], temperature?.name],
    ...(log.channels ?? []).map((channel, index): [Path, string | number | undefined] => [
      ['log', 'channels', index, 'name'],
      channel.name,
    ]),
  ];
  const usedBy = new Map<string | number, Path>();
  for (const [path, name] of uses) {
    if (name === undefined) continue;
    const earlier = usedBy.get(name);
    if (earlier === undefined) usedBy.set(name, path);
    else
      tell(
        path,
        `Column ${typeof name === 'number' ? name : shown(plainText(name))} is used twice: ${earlier.slice(1, -1).join(' ')} has it already.`,
      );
  }
}
