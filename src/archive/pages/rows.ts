/** A session as a row of the archive's tables: what is shown of it, and what it is found by. */
import { zoneOf } from '../../base/zone.ts';
import type { Status } from '../../checks/check.ts';
import type { Content } from '../../report/words/content.ts';
import { type Format, makeFormat } from '../../report/words/format.ts';
import type { Summary } from '../summary/summary.ts';
import type { Vehicle } from '../vehicles/vehicles.ts';

export const STATUSES: readonly Status[] = ['fault', 'watch', 'undecided', 'clear'];

export interface Row {
  readonly id: string;
  readonly title: string;
  readonly concern: string | null;
  readonly vehicle: string;
  readonly vehicleName: string | null;
  /** Folder below `vehicles/`. */
  readonly vehicleFolder: string | null;
  readonly repairOrder: string | null;
  readonly technician: string | null;
  readonly purpose: string;
  /** ISO, UTC; and the day in the session's zone, YYYY-MM-DD. */
  readonly start: string;
  readonly day: string;
  /** The day for people. */
  readonly date: string;
  readonly status: Status;
  readonly checks: readonly string[];
  readonly headlines: readonly string[];
  readonly sha256: string;
}

/** Newest first. */
export function rowsOf(
  entries: readonly { readonly summary: Summary; readonly sha256: string }[],
  vehicles: readonly Vehicle<Summary>[],
  content: Content,
): Row[] {
  const folders = new Map(vehicles.flatMap(({ folder, sessions }) => sessions.map((one) => [one, folder] as const)));
  const formatOf = formatsOf(content);
  const rows = entries.map(({ summary, sha256 }): Row => {
    const { session, log, status, headlines, found } = summary;
    const startS = Date.parse(log.start) / 1000;
    const { concern, title } = session;
    return {
      id: session.id,
      title,
      concern: concern === title ? null : concern,
      vehicle: session.vehicle.description,
      vehicleName: session.vehicle.registration ?? session.vehicle.vin,
      vehicleFolder: folders.get(summary) ?? null,
      repairOrder: session.repair_order,
      technician: session.technician,
      purpose: session.purpose,
      start: log.start,
      day: dayOf(startS, session.timezone),
      date: formatOf(session.timezone).date(startS),
      status,
      checks: found.map(({ check }) => check),
      headlines,
      sha256,
    };
  });
  return rows.sort((a, b) => compare(b.start, a.start) || compare(a.id, b.id));
}

/** A format for each zone, made once. */
export function formatsOf(content: Content): (timezone: string) => Format {
  const formats = new Map<string, Format>();
  return (timezone) => {
    const known = formats.get(timezone);
    if (known) return known;
    const format = makeFormat(content.locale, zoneOf(timezone), content.label('unknown'));
    formats.set(timezone, format);
    return format;
  };
}

function dayOf(startS: number, timezone: string): string {
  const ms = startS * 1000;
  return new Date(ms + zoneOf(timezone).offsetMs(ms)).toISOString().slice(0, 10);
}

export function compare(a: string, b: string): number {
  return a < b ? -1 : a > b ? 1 : 0;
}
