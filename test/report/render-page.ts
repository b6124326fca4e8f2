import { loadContent } from '../../src/node/content.ts';
import type { Report } from '../../src/report/contract/report.ts';
import { layPage, type PageOptions } from '../../src/report/page/page.ts';
import type { PageChart } from '../../src/report/page/page-words.ts';

/** The page with its pictures, in one go; in the shop's and the tool's own words where no others are given. */
export function renderPage(
  report: Report,
  charts: readonly (PageChart & { readonly svg: string })[],
  options: Omit<PageOptions, 'content'> & Partial<PageOptions>,
): string {
  const { shop, content = loadContent(report.language, shop?.content, shop?.templates) } = options;
  return layPage(report, charts, { ...options, content })(charts);
}
