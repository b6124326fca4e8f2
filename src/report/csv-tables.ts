/**
 * `tables/NAME.csv`: every parked period, wake, crank, event, drive and figure of the portrait, in the names, units and times of
 * `report.json` (RFC 4180).
 */
import type { Report } from './contract/report.ts';
import { portraitFigures } from './portrait-figures.ts';

type Cell = string | number | boolean | null | readonly string[];

/** File name to text, for each table; one without rows has its header all the same. */
export function csvTables(report: Report): ReadonlyMap<string, string> {
  const against = report.against_model;
  return new Map([
    [
      'parked.csv',
      csv(report.parked, [
        'start',
        'end',
        'key_off_in_log',
        'time_to_sleep_s',
        'sleep_draw_a',
        'sleep_draw_u_a',
        'mean_draw_a',
        'charge_out_ah',
        'wakes',
        'rest_voltage_v',
        'state_of_charge',
      ]),
    ],
    ['wakes.csv', csv(report.wakes, ['start', 'seconds', 'peak_a', 'mean_a', 'charge_ah', 'channels'])],
    [
      'cranks.csv',
      csv(report.cranks, [
        'at',
        'seconds',
        'volts_before',
        'volts_min',
        'volts_cranking',
        'amps_peak',
        'resistance_ohm',
        'temperature_c',
      ]),
    ],
    ['events.csv', csv(report.events ?? [], ['kind', 'start', 'seconds', 'mean_a', 'volts_min'])],
    ['drives.csv', csv(report.drives, ['start', 'end', 'volts_median', 'charge_in_ah', 'charge_out_ah'])],
    [
      'portrait.csv',
      csv(report.portrait ? portraitFigures(report.portrait) : [], ['figure', 'of', 'unit', 'n', 'p05', 'p50', 'p95']),
    ],
    ...(against ? [['against-model.csv', csv(against.figures, AGAINST_MODEL)] as const] : []),
  ]);
}

const AGAINST_MODEL = [
  'figure',
  'of',
  'unit',
  'value',
  'vehicles',
  'method',
  'low',
  'high',
  'chance',
  'outside',
] as const;

function csv<Key extends string>(rows: readonly Readonly<Record<Key, Cell>>[], columns: readonly Key[]): string {
  const lines = [columns.join(','), ...rows.map((row) => columns.map((column) => field(row[column])).join(','))];
  return `${lines.join('\r\n')}\r\n`;
}

/**
 * A text that a spreadsheet would run as a formula is put behind an apostrophe, which spreadsheets take for "this is
 * text". Numbers are ours and keep their minus.
 */
function field(value: Cell): string {
  if (value === null) return '';
  if (typeof value === 'number' || typeof value === 'boolean') return String(value);
  const text = typeof value === 'string' ? value : value.join('; ');
  const safe = /^\s*[=+\-@]|^[\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
