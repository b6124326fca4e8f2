/**
 * Reports as they stand in an archive: read back by their contract, and named where they cannot be used. An archive lives
 * longer than a version of this tool, so every `standstill-report/1` ever written must be read; the contract says what the
 * older ones lack.
 */
import { shown } from '../base/shown.ts';
import { there } from '../base/there.ts';
import { type Report, ReportContract, type ReportFinding } from '../report/contract/report.ts';

/** What no archive page, comparison or table shows: most of a report, and with thousands of them most of the memory. */
type Left = 'periods' | 'links' | 'events' | 'checklist' | 'cautions' | 'method';
type LeftOfFinding = 'question' | 'plain' | 'detail' | 'evidence' | 'cautions' | 'next_steps';

export type StoredFinding = Omit<ReportFinding, LeftOfFinding>;
/** The part of a report that archive, comparisons and tables are made from. */
export type StoredReport = Omit<Report, Left | 'findings'> & { readonly findings: readonly StoredFinding[] };

export type Read =
  | { readonly folder: string; readonly report: StoredReport }
  | { readonly folder: string; readonly message: string };

export interface Archive {
  /** In order of folder names. */
  readonly sessions: readonly { readonly folder: string; readonly report: StoredReport }[];
  /** Folders whose `report.json` could not be used, with what is wrong. */
  readonly damaged: readonly { readonly folder: string; readonly message: string }[];
}

/** The report of a `report.json`'s text; `folder` is how it is called in the answer. Null: there is none. */
export function storedOf(text: string | null, folder: string): Read {
  if (text === null) return { folder, message: 'report.json is missing or cannot be read.' };
  let value: unknown;
  try {
    value = JSON.parse(text);
  } catch {
    return { folder, message: 'report.json is damaged: it is not valid JSON.' };
  }
  const parsed = ReportContract.safeParse(value);
  if (parsed.success) return { folder, report: asStored(parsed.data) };
  const issue = there(parsed.error.issues[0]);
  const key = issue.path.length > 0 ? `, ${issue.path.join('.')}` : '';
  return { folder, message: `report.json${key}: ${issue.message.replace(/\.$/, '')}.` };
}

/** Of a session of the archive. Its folder must bear its id: links, comparisons and tables go by that. */
export function underItsId(read: Read): Read {
  const { folder } = read;
  if ('message' in read || read.report.session.id === folder) return read;
  const { id } = read.report.session;
  return { folder, message: `report.json, session.id: Found ${shown(id)}, which is not the name of its folder.` };
}

/** Without what nobody asks of a stored report, and with accuracies in numbers also where an older version wrote none. */
export function asStored(report: Report): StoredReport {
  const { periods, links, events, checklist, cautions, method, ...kept } = report;
  const columns = report.session.columns.map((column) => ({
    ...column,
    accuracy_stated: column.accuracy_stated ?? numbersIn(column.accuracy),
  }));
  const findings = report.findings.map(
    ({ question, plain, detail, evidence, cautions, next_steps, ...finding }) => finding,
  );
  return { ...kept, session: { ...report.session, columns }, findings };
}

/** Version 0.1.0 wrote accuracies as text alone: `0.1 % + 0.01 V`. */
function numbersIn(text: string | null): Report['session']['columns'][number]['accuracy_stated'] {
  const [, percent, absolute, unit] = /^([\d.e+-]+) % \+ ([\d.e+-]+) (\S+)$/.exec(text ?? '') ?? [];
  return unit === undefined ? null : { relative: Number(percent) / 100, absolute: Number(absolute), unit };
}
