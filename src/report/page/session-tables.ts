/** Tables of the session as a whole. */
import type { PeriodKind } from '../../analysis/model.ts';
import type { Report } from '../contract/report.ts';
import type { PageWords } from './page-words.ts';
import { type TableView, table } from './table-view.ts';

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
  'unknown',
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
