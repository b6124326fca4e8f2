/**
 * Reports as an archive reads them back, to be changed in the one point that a test is about. They hold what an archive
 * drops too, so that they can be written into one as they are.
 */
import type { StoredReport } from '../../src/archive/stored-report.ts';
import { ReportContract } from '../../src/report/contract/report.ts';
import { sampleReport } from '../report/sample.ts';

type Writable<T> = T extends readonly (infer Item)[]
  ? Writable<Item>[]
  : T extends object
    ? { -readonly [K in keyof T]: Writable<T[K]> }
    : T;

/** A copy with something else in it. */
export function changed(report: StoredReport, change: (report: Writable<StoredReport>) => void): StoredReport {
  const copy = structuredClone(report) as Writable<StoredReport>;
  change(copy);
  return copy as StoredReport;
}

/** A sound vehicle: every finding that is measured is in order, and nothing else is said. */
export function stored(id: string, start: string): StoredReport {
  const report = changed(ReportContract.parse(structuredClone(sampleReport())), (own) => {
    own.session.id = id;
    own.log.start = start;
    own.findings = [];
  });
  const A = (value: number) => ({ value, unit: 'A', uncertainty: 0.003 });
  const sound = withFinding(report, 'parked-draw', 'clear', A(0.02));
  return withFinding(sound, 'wake-ups', 'clear', A(0.001));
}

export function withFinding(
  report: StoredReport,
  check: string,
  status: string,
  measured: { value: number; unit: string; uncertainty: number | null } | null,
  reason: string | null = null,
): StoredReport {
  return changed(report, (own) => {
    const limit = measured ? { value: 0.05, unit: measured.unit, source: 'common practice, no source' } : null;
    const rest = own.findings.filter((finding) => finding.check !== check);
    const known = measured && { ...measured, coverage: 2 as const };
    const words = { question: '', plain: '', detail: '', evidence: [], cautions: [], next_steps: [] };
    const finding = {
      ...words,
      check,
      name: check,
      title: check,
      measured: known,
      limit,
      reason,
      variant: null,
      reason_key: null,
      follows: null,
    };
    own.findings = [...rest, { ...finding, status: status as 'clear' }];
  });
}
