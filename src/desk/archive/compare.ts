/** Two sessions of an archive side by side, in a page. */

import { compareReports } from '../../archive/comparison/comparison.ts';
import { comparisonFiles } from '../../archive/comparison/comparison-files.ts';
import { makeComparison } from '../../archive/comparison/comparison-page.ts';
import { UserError } from '../../base/problem.ts';
import { chooseLanguage } from '../../report/words/languages.ts';
import { contentOf } from '../content.ts';
import { DATA } from '../data.ts';
import { drawSvg } from '../draw-svg.ts';
import { type ArchiveSource, archiveOf, folderOf } from './folder.ts';

/** Its files, by path in its folder. */
export async function compare(
  source: ArchiveSource,
  ids: { readonly before: string; readonly after: string },
): Promise<Map<string, string>> {
  const archive = archiveOf(folderOf(source), '');
  const [before, after] = await Promise.all(
    [ids.before, ids.after].map(async (id) => {
      const read = await archive.read(id);
      if (read && 'report' in read) return read.report;
      throw new UserError([{ file: id, message: read?.message ?? 'report.json is missing or cannot be read.' }]);
    }),
  );
  if (!before || !after) throw new Error('two reports make a comparison');
  const { shop, languages, version } = DATA;
  const language = chooseLanguage({ session: { language: after.language }, shop: DATA, there: languages });
  const made = await makeComparison(compareReports(before, after), {
    pageSize: shop?.pageSize ?? 'a4',
    content: contentOf(language),
    version,
    drawSvg,
  });
  return comparisonFiles(made);
}
