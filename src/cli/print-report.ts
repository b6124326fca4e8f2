/** The PDFs of a report: the whole and the customer's page, each printed once, under as many names as are wanted. */
import { customersPage } from '../report/page/page.ts';
import type { PdfPart } from '../report/pdf/pdf-names.ts';
import { withData } from '../report/write-report.ts';
import type { LazyPrinter } from './lazy-printer.ts';

export interface Printed {
  /** For messages. */
  readonly name: string;
  readonly html: string;
  readonly pageSize: 'a4' | 'letter';
  /** ms since the epoch; the document's date. */
  readonly dateMs: number;
  /** `report.json`, which the whole report carries along. */
  readonly data: string;
}

/** By name; null where there is no browser. */
export async function printPdfs(
  { name, html, pageSize, dateMs, data }: Printed,
  names: ReadonlyMap<string, PdfPart>,
  printer: LazyPrinter,
): Promise<ReadonlyMap<string, Uint8Array> | null> {
  const print = (page: string) => printer.print(name, page, pageSize, dateMs);
  const parts = new Map<PdfPart, Uint8Array>();
  for (const part of new Set(names.values())) {
    const pdf = await print(part === 'whole' ? html : customersPage(html));
    if (pdf === null) return null;
    parts.set(part, part === 'whole' ? withData(pdf, data, dateMs, () => printer.lacks.add('data')) : pdf);
  }
  return new Map([...names].map(([file, part]) => [file, parts.get(part) as Uint8Array]));
}
