/**
 * An archive as Parquet: `tables/TABLE/year=YYYY/part-N.parquet`, the year being that in which the session's log begins,
 * UTC, and stands in the folder's name alone, as engines ask. Names, units and times are those of `report.json`; every row
 * carries `session_id`. Columns may be added by later
 * versions; a column that stands here keeps its name, type and meaning.
 */
import type { SchemaElement } from 'hyparquet';
import { parquetWriteBuffer } from 'hyparquet-writer';
import { replaceFolder } from '../base/disk/replace-folder.ts';
import { portraitFigures } from '../report/portrait-figures.ts';
import { refuseLinks } from './no-links.ts';
import { readArchive } from './stored.ts';
import type { Archive, StoredReport } from './stored-report.ts';

type Type = 'STRING' | 'DOUBLE' | 'INT32' | 'BOOLEAN' | 'TIMESTAMP';
type Cell = string | number | boolean | Date | null;
type Row = Readonly<Record<string, Cell>>;

interface Table {
  /** In the order of the columns; `session_id` comes before them. */
  readonly columns: Readonly<Record<string, Type>>;
  readonly rows: (report: StoredReport) => readonly Row[];
}

/** Rows of one file; engines read files side by side, and do best with few that are not small. */
const PART_ROWS = 500_000;
/** Rows of one group: what an engine reads, or by its statistics leaves out, at once. */
const GROUP_ROWS = 100_000;

const at = (iso: string) => new Date(iso);

export const TABLES: Readonly<Record<string, Table>> = {
  sessions: {
    columns: {
      title: 'STRING',
      purpose: 'STRING',
      repair_order: 'STRING',
      technician: 'STRING',
      timezone: 'STRING',
      vehicle: 'STRING',
      model: 'STRING',
      registration: 'STRING',
      vin: 'STRING',
      odometer_km: 'DOUBLE',
      powertrain: 'STRING',
      system_voltage_v: 'DOUBLE',
      chemistry: 'STRING',
      capacity_ah: 'DOUBLE',
      start: 'TIMESTAMP',
      end: 'TIMESTAMP',
      rows: 'DOUBLE',
      covered_s: 'DOUBLE',
      missing_s: 'DOUBLE',
      charge_in_ah: 'DOUBLE',
      charge_out_ah: 'DOUBLE',
      driving_s: 'DOUBLE',
      parked_s: 'DOUBLE',
      asleep_s: 'DOUBLE',
      awake_s: 'DOUBLE',
      tool_version: 'STRING',
    },
    rows: ({ session, log, totals, tool }) => [
      {
        title: session.title,
        purpose: session.purpose,
        repair_order: session.repair_order,
        technician: session.technician,
        timezone: session.timezone,
        vehicle: session.vehicle.description,
        model: session.vehicle.model,
        registration: session.vehicle.registration,
        vin: session.vehicle.vin,
        odometer_km: session.vehicle.odometer_km,
        powertrain: session.vehicle.powertrain,
        system_voltage_v: session.vehicle.system_voltage_v,
        chemistry: session.battery.chemistry,
        capacity_ah: session.battery.capacity_ah,
        start: at(log.start),
        end: at(log.end),
        rows: log.rows,
        covered_s: log.covered_s,
        missing_s: log.missing_s,
        ...totals,
        tool_version: tool.version,
      },
    ],
  },
  findings: {
    columns: {
      check: 'STRING',
      status: 'STRING',
      title: 'STRING',
      value: 'DOUBLE',
      unit: 'STRING',
      uncertainty: 'DOUBLE',
      limit: 'DOUBLE',
      limit_source: 'STRING',
      reason_key: 'STRING',
      follows: 'STRING',
    },
    rows: ({ findings }) =>
      findings.map(({ check, status, title, measured, limit, reason_key, follows }) => ({
        check,
        status,
        title,
        value: measured?.value ?? null,
        unit: measured?.unit ?? null,
        uncertainty: measured?.uncertainty ?? null,
        limit: limit?.value ?? null,
        limit_source: limit?.source ?? null,
        reason_key,
        follows,
      })),
  },
  parked: {
    columns: {
      start: 'TIMESTAMP',
      end: 'TIMESTAMP',
      key_off_in_log: 'BOOLEAN',
      time_to_sleep_s: 'DOUBLE',
      sleep_draw_a: 'DOUBLE',
      sleep_draw_u_a: 'DOUBLE',
      mean_draw_a: 'DOUBLE',
      charge_out_ah: 'DOUBLE',
      wakes: 'INT32',
      rest_voltage_v: 'DOUBLE',
      state_of_charge: 'DOUBLE',
    },
    rows: ({ parked }) =>
      parked.map(({ account, held, ...one }) => ({ ...one, start: at(one.start), end: at(one.end) })),
  },
  wakes: {
    columns: {
      start: 'TIMESTAMP',
      seconds: 'DOUBLE',
      peak_a: 'DOUBLE',
      mean_a: 'DOUBLE',
      charge_ah: 'DOUBLE',
      channels: 'STRING',
    },
    rows: ({ wakes }) => wakes.map((one) => ({ ...one, start: at(one.start), channels: one.channels.join('; ') })),
  },
  cranks: {
    columns: {
      at: 'TIMESTAMP',
      seconds: 'DOUBLE',
      volts_before: 'DOUBLE',
      volts_min: 'DOUBLE',
      volts_cranking: 'DOUBLE',
      amps_peak: 'DOUBLE',
      resistance_ohm: 'DOUBLE',
      temperature_c: 'DOUBLE',
    },
    rows: ({ cranks }) => cranks.map((one) => ({ ...one, at: at(one.at) })),
  },
  drives: {
    columns: {
      start: 'TIMESTAMP',
      end: 'TIMESTAMP',
      volts_median: 'DOUBLE',
      charge_in_ah: 'DOUBLE',
      charge_out_ah: 'DOUBLE',
    },
    rows: ({ drives }) => drives.map((one) => ({ ...one, start: at(one.start), end: at(one.end) })),
  },
  portrait: {
    columns: {
      figure: 'STRING',
      of: 'STRING',
      unit: 'STRING',
      n: 'INT32',
      p05: 'DOUBLE',
      p50: 'DOUBLE',
      p95: 'DOUBLE',
    },
    rows: ({ portrait }) => (portrait ? portraitFigures(portrait).map(({ compares, ...one }) => one) : []),
  },
};

/** Replaces `OUT/tables` by the tables of the archive's sessions; a table without rows has its columns all the same. */
export async function writeTables(outDir: string): Promise<{ readonly folder: string; readonly archive: Archive }> {
  refuseLinks(outDir);
  const archive = await readArchive(outDir);
  const years = new Map<string, StoredReport[]>();
  for (const { report } of archive.sessions) {
    const year = report.log.start.slice(0, 4);
    years.set(year, [...(years.get(year) ?? []), report]);
  }
  const files = new Map<string, Uint8Array>();
  for (const [name, table] of Object.entries(TABLES)) {
    for (const [year, reports] of years) {
      const rows = reports.flatMap((report) =>
        table.rows(report).map((row) => ({ session_id: report.session.id, ...row })),
      );
      for (let part = 0; part === 0 || part * PART_ROWS < rows.length; part++) {
        const own = rows.slice(part * PART_ROWS, (part + 1) * PART_ROWS);
        files.set(`${name}/year=${year}/part-${part}.parquet`, parquet(table, own));
      }
    }
  }
  return { folder: await replaceFolder(outDir, 'tables', files), archive };
}

/** Types as every reader knows them; times are instants, which some readers take as local ones where no logical type says so. */
const ELEMENTS: Readonly<Record<Type, Omit<SchemaElement, 'name'>>> = {
  STRING: { type: 'BYTE_ARRAY', converted_type: 'UTF8', logical_type: { type: 'STRING' } },
  DOUBLE: { type: 'DOUBLE' },
  INT32: { type: 'INT32' },
  BOOLEAN: { type: 'BOOLEAN' },
  TIMESTAMP: {
    type: 'INT64',
    converted_type: 'TIMESTAMP_MILLIS',
    logical_type: { type: 'TIMESTAMP', isAdjustedToUTC: true, unit: 'MILLIS' },
  },
};

function parquet({ columns }: Table, rows: readonly Row[]): Uint8Array {
  const typed = Object.entries({ session_id: 'STRING' as Type, ...columns });
  const schema: SchemaElement[] = [
    { name: 'standstill', num_children: typed.length },
    ...typed.map(([name, type]) => ({
      name,
      repetition_type: name === 'session_id' ? ('REQUIRED' as const) : ('OPTIONAL' as const),
      ...ELEMENTS[type],
    })),
  ];
  const columnData = typed.map(([name]) => ({ name, data: rows.map((row) => row[name]) }));
  return new Uint8Array(parquetWriteBuffer({ columnData, schema, rowGroupSize: GROUP_ROWS, createdBy: 'standstill' }));
}
