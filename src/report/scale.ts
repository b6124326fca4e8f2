/** Where a value, its uncertainty and its limit lie on a short axis, in percent of its length: for the small picture beside a finding. */
import type { ReportFinding } from './report.ts';

export interface Scale {
  readonly value: number;
  /** Ends of value ± uncertainty. */
  readonly low: number;
  readonly high: number;
  readonly limit: number;
}

/** Null where value or limit is missing, or they are in different units. The axis begins at 0, for a voltage near the values. */
export function scaleOf({ measured, limit }: ReportFinding): Scale | null {
  if (!measured || !limit || measured.unit !== limit.unit) return null;
  const spread = measured.uncertainty ?? 0;
  const marks = [measured.value - spread, measured.value + spread, limit.value];
  const floats = measured.unit === 'V' || measured.unit === '°C';
  const room = (Math.max(...marks) - Math.min(...marks)) * 0.6 || Math.abs(limit.value) * 0.1 || 1;
  const from = floats ? Math.min(...marks) - room : Math.min(0, ...marks);
  const to = floats ? Math.max(...marks) + room : Math.max(...marks) * 1.25 || 1;
  const place = (value: number) => Math.round(((value - from) / (to - from)) * 1000) / 10;
  return { value: place(measured.value), low: place(marks[0]), high: place(marks[1]), limit: place(limit.value) };
}
