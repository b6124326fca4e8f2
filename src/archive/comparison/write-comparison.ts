/** Writes `OUT/comparisons/BEFORE--AFTER/`, whole or not at all. */

import { replaceFolder } from '../../base/disk/replace-folder.ts';
import { refuseLinks } from '../no-links.ts';
import { comparisonFiles } from './comparison-files.ts';
import type { MadeComparison } from './comparison-page.ts';
import { pairName } from './pairs.ts';
import { comparisonsIn } from './pairs-there.ts';

/** Returns the folder that was written. Throws a `UserError` where a folder of the archive is a link. */
export async function writeComparison(
  outDir: string,
  ids: { readonly before: string; readonly after: string },
  made: MadeComparison,
  pdf: Uint8Array | null,
): Promise<string> {
  refuseLinks(outDir);
  const files = new Map<string, string | Uint8Array>(comparisonFiles(made));
  if (pdf) files.set('report.pdf', pdf);
  return replaceFolder(comparisonsIn(outDir), pairName(ids.before, ids.after), files);
}
