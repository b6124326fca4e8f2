import type { Report } from '../../src/report/contract/report.ts';

interface Agreement {
  /** What may not stand together. */
  readonly name: string;
  readonly why: string;
  /** What was found; nothing where the report agrees. */
  broken(report: Report): string | false | undefined | null;
}

export const AGREEMENTS: readonly Agreement[];
export function disagreements(report: Report): string[];
