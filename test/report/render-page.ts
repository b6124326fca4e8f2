import type { Report } from '../../src/report/contract/report.ts';
import { layPage, type PageOptions } from '../../src/report/page/page.ts';
import type { PageChart } from '../../src/report/page/page-words.ts';

/** The page with its pictures, in one go. */
export function renderPage(
  report: Report,
  charts: readonly (PageChart & { readonly svg: string })[],
  options: PageOptions,
): string {
  return layPage(report, charts, options)(charts);
}
