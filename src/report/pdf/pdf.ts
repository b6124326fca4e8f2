/** Makes a printed PDF depend on its page alone: two prints of one page by one browser give the same bytes. */
import { pdfDate } from './pdf-objects.ts';

/**
 * Overwrites in place, same length, what differs between two prints:
 * - the dates of creation and change, which become `dateMs` (milliseconds since 1970, UTC);
 * - the names of table cells that other cells refer to (`node00000020`), which the browser numbers by the state of its
 *   page process. They are renumbered from 1 in their own order, which is also the order of the file's lookup tree.
 *
 * Both are looked for in the form in which Chromium's PDF writer lays them down, outside compressed streams. Text that
 * a person wrote cannot be mistaken for them: its brackets are escaped, and a name is changed only where one stands.
 */
export function pinPdf(pdf: Uint8Array, dateMs: number): Buffer {
  const text = Buffer.from(pdf.buffer, pdf.byteOffset, pdf.byteLength).toString('latin1');
  return Buffer.from(pinCellNames(pinDates(text, dateMs)), 'latin1');
}

function pinDates(text: string, dateMs: number): string {
  const date = pdfDate(dateMs);
  return text.replace(/\/(CreationDate|ModDate) \(D:\d{14}[+-]\d\d'\d\d'\)/g, (_, key: string) => `/${key} ${date}`);
}

/** A cell's name, with the key before it where there is one: `/ID (node00000020)`. Under other keys it is a text. */
const CELL_NAME = /(\/[A-Za-z]+ ?)?\(node(\d{8})\)/g;
const isCellName = (key: string | undefined) => key === undefined || key.trim() === '/ID';

function pinCellNames(text: string): string {
  const names = new Set<string>();
  for (const [, key = '', name = ''] of text.matchAll(CELL_NAME)) if (isCellName(key)) names.add(name);
  const pinned = new Map([...names].sort().map((name, index) => [name, String(index + 1).padStart(8, '0')]));
  return text.replace(CELL_NAME, (found, key: string | undefined, name: string) =>
    isCellName(key) ? `${key ?? ''}(node${pinned.get(name)})` : found,
  );
}
