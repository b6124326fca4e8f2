/** Writes a session's folder of the archive, whole or not at all. */
import { join } from 'node:path';
import { replaceFolder } from '../base/disk/replace-folder.ts';
import { UserError } from '../base/problem.ts';
import { idFault } from '../manifest/session-id.ts';
import { attachFile } from './pdf/pdf-attach.ts';
import { type MadeFiles, reportFiles } from './report-files.ts';

export interface WrittenFiles extends MadeFiles {
  /** By name; left out where there is no browser to print with. */
  readonly pdfs?: ReadonlyMap<string, Uint8Array>;
}

/**
 * Writes `OUT/sessions/ID/…` as `replaceFolder` does, and returns that folder. Throws a `UserError` where the name cannot be
 * a folder's, or the folder cannot be replaced.
 */
export async function writeReport(outDir: string, { pdfs, ...made }: WrittenFiles): Promise<string> {
  const { report } = made;
  const fault = idFault(report.session.id);
  if (fault) throw new UserError(`The session's id cannot be a folder's name. ${fault}`);
  const files = new Map<string, string | Uint8Array>([...reportFiles(made), ...(pdfs ?? [])]);
  return replaceFolder(join(outDir, 'sessions'), report.session.id, files, ['charts', 'tables']);
}

/**
 * The PDF with `report.json` in it, so that the file alone holds what it was made from.
 *
 * @param dateMs ms since the epoch; the document's date
 * @param onBare hears where the PDF is laid down in a way that takes no attachment; it is then as it was
 */
export function withData(pdf: Uint8Array, data: string, dateMs: number, onBare?: () => void): Uint8Array {
  const file = {
    name: 'report.json',
    description: 'standstill-report/1',
    type: 'application/json',
    data: Buffer.from(data),
    dateMs,
  } as const;
  const whole = attachFile(pdf, file);
  if (whole === null) onBare?.();
  return whole ?? pdf;
}
