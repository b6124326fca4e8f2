/** What the log is: its rows, files, columns and faults. */

import type { Report } from '../contract/report.ts';
import { six } from '../report-session.ts';
import type { Format } from '../words/format.ts';
import { epoch, type PageWords } from './page-words.ts';
import { table } from './table-view.ts';

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
    column.accuracy_stated ? accuracyText(column.accuracy_stated, format) : '–',
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

/** The numbers as the reader writes them: `0,1 % + 0,01 V`. */
function accuracyText(
  { relative, absolute, unit }: NonNullable<Report['session']['columns'][number]['accuracy_stated']>,
  format: Format,
): string {
  return `${format.number(six(relative * 100))} % + ${format.number(absolute)} ${unit}`;
}
