/** Tables of what happened, a row each: stands, wakes, cranks, drives. */

import type { Report } from '../contract/report.ts';
import { epoch, type PageWords, placeIn } from './page-words.ts';
import { type TableView, table } from './table-view.ts';

export function eventTables(report: Report, { content, format }: PageWords): TableView[] {
  const at = (iso: string) => format.moment(epoch(iso));
  const length = (one: { start: string; end: string }) => format.duration(epoch(one.end) - epoch(one.start));
  const known = (value: number | null, write: (value: number) => string) => (value === null ? '–' : write(value));
  const parked = report.parked.map((one) => [
    one.key_off_in_log ? at(one.start) : `${at(one.start)} (${content.label('tables.not_in_log')})`,
    length(one),
    known(one.time_to_sleep_s, format.duration),
    known(one.sleep_draw_a, (value) => format.quantity(value, 'A', one.sleep_draw_u_a)),
    known(one.mean_draw_a, (value) => format.quantity(value, 'A', one.mean_draw_u_a)),
    format.Ah(one.charge_out_ah),
    format.number(one.wakes, 0),
    known(one.rest_voltage_v, format.V),
    known(one.state_of_charge, (share) => format.percent(share, one.state_of_charge_u)),
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
  const place = placeIn(report);
  const between = (one: { start: string; end: string }) => place(one.start, epoch(one.end) - epoch(one.start));
  const named = (name: string, columns: string[], rows: string[][], at: string[], note?: string) =>
    table(
      name,
      `tables.${name}`,
      columns.map((key) => `tables.${key}`),
      rows,
      { csv: `tables/${name}.csv`, note, at },
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
      report.parked.map(between),
      'tables.parked_note',
    ),
    named(
      'wakes',
      ['start', 'lasted#', 'peak#', 'mean#', 'charge#', 'channels'],
      wakes,
      report.wakes.map((one) => place(one.start, one.seconds)),
      'tables.wakes_note',
    ),
    named(
      'cranks',
      ['at', 'lasted#', 'before#', 'lowest#', 'plateau#', 'current#', 'resistance#', 'temperature#'],
      cranks,
      report.cranks.map((one) => place(one.at, one.seconds)),
    ),
    named('drives', ['start', 'lasted#', 'voltage#', 'charge_in#', 'charge_out#'], drives, report.drives.map(between)),
  ];
}
