/** Opens a log file of whatever kind. */
import { latin1 } from '../../base/bytes.ts';
import { below } from '../../base/files.ts';
import { UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import type { Header } from '../rows/layout.ts';
import { type LogIo, type OpenFile, readFully } from './io.ts';
import { type LogInput, PARQUET_MAGIC } from './log-input.ts';
import { openText } from './text-file.ts';

/** A packed folder, and a workbook of today's spreadsheets, begin with it (PKWARE APPNOTE 4.3.7; ISO/IEC 29500-2). */
const ZIP_MAGIC = 'PK\u0003\u0004';
const ZIP = 'This is a zip file or a spreadsheet under another name. Unpack it, or export the spreadsheet as CSV.';

/** What other files begin with, by their first four bytes, in lower case: PDF (ISO 32000), a compound file of old office programs, web pages. */
const NO_LOGS: readonly (readonly [begins: readonly string[], message: string])[] = [
  [['%pdf'], 'This is a PDF under another name. Export the log as text (CSV).'],
  [['\u00d0\u00cf\u0011\u00e0'], 'This is an old spreadsheet under another name. Open it and save it as CSV.'],
  [
    ['<htm', '<!do', '<tab', '<?xm'],
    'This is a web page or XML under another name. Open it in a spreadsheet and save it as CSV.',
  ],
  [['{\\rt'], 'This is a text document with formats (RTF). Save it as plain text.'],
];

/**
 * Throws UserError where the file cannot be read, or the manifest and the file do not fit.
 *
 * @param like header of another of the log's files, for one that has none of its own
 */
export async function openInput(io: LogIo, session: Session, name: string, like?: Header): Promise<LogInput> {
  let file: OpenFile | undefined;
  try {
    file = await io.open(below(session.folder, name));
    const magic = new Uint8Array(PARQUET_MAGIC.length);
    await readFully(file, magic, 0);
    const isParquet = latin1(magic) === PARQUET_MAGIC;
    const begin = latin1(magic).toLowerCase();
    const other = latin1(magic) === ZIP_MAGIC ? ZIP : NO_LOGS.find(([begins]) => begins.includes(begin))?.[1];
    if (other !== undefined) throw new UserError([{ file: name, message: other }]);
    if (!isParquet) return await openText(io, file, session, name, like);
    // Few logs are Parquet, and its reader takes longer to load than all of ours.
    const { openParquet } = await import('../parquet/parquet-file.ts');
    return await openParquet(io, file, session, name);
  } catch (error) {
    await file?.close();
    if (!(error instanceof Error && 'code' in error && 'syscall' in error)) throw error;
    throw new UserError([{ file: name, message: `This log file cannot be read (${plainText(String(error.code))}).` }]);
  }
}
