/** Tables of the page: cells in words, at most fifty rows each, a dozen on paper. All rows are in `tables/NAME.csv`. */
import type { PeriodKind } from '../analysis/analysis.ts';
import type { Report } from './report.ts';
import { epoch, type PageWords } from './view.ts';

const MOST_ROWS = 50;
const MOST_PRINTED = 12;

export interface TableView {
  readonly id: string;
  /** Key of the caption among the labels. */
  readonly caption: string;
  readonly columns: readonly { readonly label: string; readonly number: boolean }[];
  /** The first cell of a row is a time, and kept on one line. */
  readonly times: boolean;
  /** The first cell of a row heads it. */
  readonly rows: readonly {
    readonly head: string;
    readonly cells: readonly { readonly text: string; readonly number: boolean }[];
    /** Not on paper. */
    readonly late: boolean;
  }[];
  readonly total: number;
  /** Set where rows were left out. */
  readonly shown: number | null;
  /** Set where rows are left out on paper. */
  readonly printed: number | null;
  readonly csv: string | null;
}

/** @param columns label keys; one that ends in `#` holds numbers and stands to the right. */
function table(
  id: string,
  caption: string,
  columns: readonly string[],
  rows: readonly (readonly string[])[],
  csv?: string,
): TableView {
  const heads = columns.map((key) => ({ label: key.replace('#', ''), number: key.endsWith('#') }));
  // Only a table that stands whole in a file of its own is cut short on paper.
  const printed = csv ? MOST_PRINTED : MOST_ROWS;
  return {
    id,
    caption,
    columns: heads,
    times: columns[0] === 'tables.start' || columns[0] === 'tables.at',
    rows: rows.slice(0, MOST_ROWS).map(([head, ...cells], row) => ({
      head,
      late: row >= printed,
      cells: cells.map((text, index) => ({ text, number: heads[index + 1].number })),
    })),
    total: rows.length,
    shown: rows.length > MOST_ROWS ? MOST_ROWS : null,
    printed: rows.length > printed ? printed : null,
    csv: csv ?? null,
  };
}

const PERIODS: readonly PeriodKind[] = [
  'driving',
  'cranking',
  'key-on',
  'settling',
  'asleep',
  'awake',
  'on-charger',
  'disconnected',
  'no-data',
];

/** How the time was spent, and what is known of the wakes; of the latter, those tables that have a row. */
export function sessionTables(
  report: Report,
  { content, format }: PageWords,
): { readonly totals: TableView; readonly wakes: readonly TableView[] } {
  const whole = report.periods.reduce((sum, period) => sum + period.seconds, 0);
  const totals = PERIODS.flatMap((kind) => {
    const periods = report.periods.filter((period) => period.kind === kind);
    if (periods.length === 0) return [];
    const sum = (key: 'seconds' | 'charge_in_ah' | 'charge_out_ah') =>
      periods.reduce((all, period) => all + period[key], 0);
    return [
      [
        content.label(`period.${kind}`),
        format.number(periods.length, 0),
        format.duration(sum('seconds')),
        format.percent(whole > 0 ? sum('seconds') / whole : null),
        format.Ah(sum('charge_in_ah')),
        format.Ah(sum('charge_out_ah')),
      ],
    ];
  });
  const links = report.links.map((link) => [
    link.channel,
    `${format.number(link.wakes_with, 0)} / ${format.number(link.wakes_seen, 0)}`,
    format.percent(link.charge_share),
    format.percent(link.chance),
  ]);
  const settlings = report.links.flatMap(({ channel, settlings: slow }) =>
    slow
      ? [
          [
            channel,
            `${format.number(slow.slow_with, 0)} / ${format.number(slow.slow_seen, 0)}`,
            `${format.number(slow.quick_with, 0)} / ${format.number(slow.quick_seen, 0)}`,
            format.percent(slow.charge_share),
            format.percent(slow.chance),
          ],
        ]
      : [],
  );
  const patterns = report.wake_patterns.map((pattern) => [
    pattern.channel ?? content.label('none'),
    format.number(pattern.count, 0),
    pattern.period_s === null ? content.label('none') : format.duration(pattern.period_s),
    format.duration(pattern.seconds),
    format.quantity(pattern.mean_a, 'A'),
    format.Ah(pattern.charge_ah_per_day),
  ]);
  const wakes = [
    table('links', 'session.links', ['tables.channel', 'tables.with#', 'tables.share#', 'tables.chance#'], links),
    table(
      'settlings',
      'session.settlings',
      ['tables.channel', 'tables.slow_with#', 'tables.quick_with#', 'tables.share#', 'tables.chance#'],
      settlings,
    ),
    table(
      'patterns',
      'session.patterns',
      ['tables.channel', 'tables.count#', 'tables.every#', 'tables.lasted#', 'tables.mean#', 'tables.per_day#'],
      patterns,
    ),
  ];
  return {
    totals: table(
      'totals',
      'session.totals',
      ['session.kind', 'session.stretches#', 'session.time#', 'session.share#', 'session.in#', 'session.out#'],
      totals,
    ),
    wakes: wakes.filter((one) => one.total > 0),
  };
}

export function eventTables(report: Report, { content, format }: PageWords): TableView[] {
  const at = (iso: string) => format.moment(epoch(iso));
  const length = (one: { start: string; end: string }) => format.duration(epoch(one.end) - epoch(one.start));
  const known = (value: number | null, write: (value: number) => string) => (value === null ? '–' : write(value));
  const parked = report.parked.map((one) => [
    one.key_off_in_log ? at(one.start) : `${at(one.start)} (${content.label('tables.not_in_log')})`,
    length(one),
    known(one.time_to_sleep_s, format.duration),
    known(one.sleep_draw_a, (value) => format.quantity(value, 'A', one.sleep_draw_u_a)),
    known(one.mean_draw_a, (value) => format.quantity(value, 'A')),
    format.Ah(one.charge_out_ah),
    format.number(one.wakes, 0),
    known(one.rest_voltage_v, format.V),
    known(one.state_of_charge, format.percent),
  ]);
  const wakes = report.wakes.map((one) => [
    at(one.start),
    format.duration(one.seconds),
    format.quantity(one.peak_a, 'A'),
    format.quantity(one.mean_a, 'A'),
    format.Ah(one.charge_ah),
    one.channels.join(', ') || '–',
  ]);
  const cranks = report.cranks.map((one) => [
    at(one.at),
    format.duration(one.seconds),
    format.V(one.volts_before),
    format.V(one.volts_min),
    known(one.volts_cranking, format.V),
    known(one.amps_peak, format.A),
    known(one.resistance_ohm, format.mohm),
    known(one.temperature_c, format.temp),
  ]);
  const drives = report.drives.map((one) => [
    at(one.start),
    length(one),
    format.V(one.volts_median),
    format.Ah(one.charge_in_ah),
    format.Ah(one.charge_out_ah),
  ]);
  const named = (name: string, columns: string[], rows: string[][]) =>
    table(
      name,
      `tables.${name}`,
      columns.map((key) => `tables.${key}`),
      rows,
      `tables/${name}.csv`,
    );
  return [
    named(
      'parked',
      [
        'start',
        'lasted#',
        'to_sleep#',
        'sleep_draw#',
        'mean_draw#',
        'charge_out#',
        'wake_count#',
        'rest_voltage#',
        'charge_state#',
      ],
      parked,
    ),
    named('wakes', ['start', 'lasted#', 'peak#', 'mean#', 'charge#', 'channels'], wakes),
    named(
      'cranks',
      ['at', 'lasted#', 'before#', 'lowest#', 'plateau#', 'current#', 'resistance#', 'temperature#'],
      cranks,
    ),
    named('drives', ['start', 'lasted#', 'voltage#', 'charge_in#', 'charge_out#'], drives),
  ];
}

export function logTables(report: Report, { content, format }: PageWords) {
  const { log, session } = report;
  const faults = log.faults.map((fault) => [
    content.label(`fault.${fault.kind}`),
    fault.at ? format.dateTime(epoch(fault.at)) : '–',
    format.number(fault.count, 0),
    fault.seconds > 0 ? format.duration(fault.seconds) : '–',
    [fault.file, fault.line === null ? null : `${content.label('log.line')} ${fault.line}`]
      .filter(Boolean)
      .join(', ') || '–',
    fault.found ?? '',
  ]);
  const roles = ['time', 'voltage', 'current', 'temperature'];
  const columns = session.columns.map((column) => [
    roles.includes(column.role) ? content.label(`role.${column.role}`) : column.role,
    column.name,
    column.unit || '–',
    // Written with a point in the report, as numbers for programs are.
    column.accuracy?.replaceAll(/[\d.]+(?:e[+-]?\d+)?/g, (digits) => format.number(Number(digits))) ?? '–',
  ]);
  return {
    covered: format.duration(log.covered_s),
    missing: format.duration(log.missing_s),
    rows: format.number(log.rows, 0),
    rejected: format.number(log.rows_rejected, 0),
    step: format.duration(log.median_step_s),
    files: log.files.map((file) => ({ ...file, size: format.bytes(file.bytes), count: format.number(file.rows, 0) })),
    faults:
      faults.length > 0
        ? table(
            'faults',
            'log.faults',
            ['log.kind', 'log.at', 'log.count#', 'log.seconds#', 'log.met', 'log.what'],
            faults,
          )
        : null,
    columns: table('columns', 'log.columns', ['log.role', 'log.name', 'log.unit', 'log.accuracy'], columns),
    understood: table(
      'understood',
      'log.understood',
      ['log.what', 'log.how'],
      log.understood.map(({ what, how }) => [what, how]),
    ),
  };
}
