/** The files of a report, as they stand in its folder of the archive; its PDF aside. */
import type { Report } from './contract/report.ts';
import { csvTables } from './csv-tables.ts';

export interface MadeFiles {
  readonly report: Report;
  /** `index.html`, from `layPage`. */
  readonly html: string;
  /** Vega-Lite specs with their data. */
  readonly charts: readonly { readonly name: string; readonly spec: object }[];
}

/** By path in the folder. */
export function reportFiles({ report, html, charts }: MadeFiles): Map<string, string> {
  return new Map([
    ...charts.map(({ name, spec }) => [`charts/${name}.vl.json`, json(spec)] as const),
    ...[...csvTables(report)].map(([name, text]) => [`tables/${name}`, text] as const),
    ['report.json', reportJson(report)],
    ['index.html', html],
  ]);
}

/** `report.json` as it is written. */
export const reportJson = (report: Report): string => json(report);

function json(value: unknown): string {
  return `${JSON.stringify(value, null, 1)}\n`;
}
