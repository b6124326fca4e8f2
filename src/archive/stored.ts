/**
 * Reports as they lie in an archive: read back, held against what is used of them, and named where they cannot be used.
 * An archive lives longer than a version of this tool, so nothing is asked for that is not needed, and what is unknown
 * here is let through: every `standstill-report/1` ever written must be read.
 */
import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { z } from 'zod';

const maybe = z.number().nullable();
const moment = z.iso.datetime();
const statuses = z.enum(['fault', 'watch', 'clear', 'undecided']);

const Finding = z.object({
  check: z.string(),
  name: z.string(),
  status: statuses,
  title: z.string(),
  measured: z.object({ value: z.number(), unit: z.string(), uncertainty: maybe }).nullable(),
  limit: z.object({ value: z.number(), unit: z.string(), source: z.string() }).nullable(),
  reason: z.string().nullable(),
  reason_key: z.string().nullable().default(null),
  follows: z.string().nullable().default(null),
});

/** Held against every `report.json` that is read. */
export const Stored = z.object({
  schema: z.literal('standstill-report/1'),
  tool: z.object({ version: z.string() }),
  language: z.string().optional(),
  session: z.object({
    id: z.string(),
    title: z.string(),
    purpose: z.enum(['baseline', 'complaint', 'after-repair']),
    concern: z.string().nullable().default(null),
    repair_order: z.string().nullable(),
    technician: z.string().nullable().default(null),
    timezone: z.string(),
    vehicle: z.object({
      description: z.string(),
      registration: z.string().nullable(),
      vin: z.string().nullable().default(null),
      odometer_km: maybe.default(null),
      powertrain: z.string(),
      system_voltage_v: z.number(),
    }),
    battery: z.object({ chemistry: z.string(), capacity_ah: maybe.default(null) }),
    limits: z.array(z.object({ key: z.string() })).default([]),
    redacted: z.boolean().default(false),
    limits_from: z.object({ session: z.string().nullable() }).nullable().default(null),
    columns: z.array(z.object({ role: z.string(), accuracy: z.string().nullable() })).default([]),
  }),
  log: z.object({ start: moment, end: moment, rows: z.number(), covered_s: z.number(), missing_s: z.number() }),
  parked: z.array(
    z.object({
      start: moment,
      end: moment,
      key_off_in_log: z.boolean(),
      time_to_sleep_s: maybe,
      sleep_draw_a: maybe,
      sleep_draw_u_a: maybe,
      mean_draw_a: maybe,
      charge_out_ah: z.number(),
      wakes: z.number(),
      rest_voltage_v: maybe,
      state_of_charge: maybe,
    }),
  ),
  wakes: z.array(
    z.object({
      start: moment,
      seconds: z.number(),
      peak_a: z.number(),
      mean_a: z.number(),
      charge_ah: z.number(),
      channels: z.array(z.string()),
    }),
  ),
  wake_patterns: z.array(z.object({ count: z.number(), period_s: maybe })),
  cranks: z.array(
    z.object({
      at: moment,
      seconds: z.number(),
      volts_before: z.number(),
      volts_min: z.number(),
      volts_cranking: maybe,
      amps_peak: maybe,
      resistance_ohm: maybe,
      temperature_c: maybe,
    }),
  ),
  drives: z.array(
    z.object({
      start: moment,
      end: moment,
      volts_median: z.number(),
      charge_in_ah: z.number(),
      charge_out_ah: z.number(),
    }),
  ),
  totals: z.object({
    charge_in_ah: z.number(),
    charge_out_ah: z.number(),
    driving_s: z.number(),
    parked_s: z.number(),
    asleep_s: z.number(),
    awake_s: z.number(),
  }),
  findings: z.array(Finding),
  summary: z.object({ answer: z.string() }),
});

/** The part of a report that archive, comparisons and tables are made from. */
export type StoredReport = z.infer<typeof Stored>;
export type StoredFinding = z.infer<typeof Finding>;

export type Read =
  | { readonly folder: string; readonly report: StoredReport }
  | { readonly folder: string; readonly message: string };

export interface Archive {
  /** In order of folder names. */
  readonly sessions: readonly { readonly folder: string; readonly report: StoredReport }[];
  /** Folders whose `report.json` could not be used, with what is wrong. */
  readonly damaged: readonly { readonly folder: string; readonly message: string }[];
}

/** Files that are read at once; more only wait for each other. */
const AT_ONCE = 16;

/** Every session of an archive; an archive that is not there yet has none. */
export async function readArchive(outDir: string): Promise<Archive> {
  const folders = await sessionFolders(outDir);
  const read = new Array<Read>(folders.length);
  let next = 0;
  const work = async () => {
    for (let k = next++; k < folders.length; k = next++) {
      read[k] = await readStored(join(outDir, 'sessions', folders[k]), folders[k]);
    }
  };
  await Promise.all(Array.from({ length: AT_ONCE }, work));
  return {
    sessions: read.flatMap((one) => ('report' in one ? [one] : [])),
    damaged: read.flatMap((one) => ('report' in one ? [] : [one])),
  };
}

/** The report in `path`, a folder with a `report.json`; `folder` is how it is called in the answer. */
export async function readStored(path: string, folder: string): Promise<Read> {
  const text = await readFile(join(path, 'report.json'), 'utf8').catch(() => null);
  if (text === null) return { folder, message: 'report.json is missing or cannot be read.' };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { folder, message: 'report.json is not whole: it is no JSON.' };
  }
  const parsed = Stored.safeParse(value);
  if (parsed.success) return { folder, report: parsed.data };
  const [issue] = parsed.error.issues;
  return { folder, message: `report.json, ${issue.path.join('.')}: ${issue.message}.` };
}

/** Folders in `sessions/`, but for those that a build is still writing. */
async function sessionFolders(outDir: string): Promise<string[]> {
  const found = await readdir(join(outDir, 'sessions'), { withFileTypes: true }).catch(() => []);
  return found.flatMap((one) => (one.isDirectory() && !one.name.startsWith('.') ? [one.name] : [])).sort();
}
