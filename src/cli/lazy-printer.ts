/** One browser for everything that is printed, started when the first page is ready. */
import { NoBrowser, openPrinter, type Printer } from '../report/pdf/browser.ts';

export interface LazyPrinter {
  /** Why there is no browser, once that is known. */
  refused: NoBrowser | null;
  /** Null where no browser can be had: the report is then written without its PDF. `dateMs`: the document's date. */
  print(name: string, html: string, pageSize: 'a4' | 'letter', dateMs: number): Promise<Buffer | null>;
  close(): Promise<void>;
}

export function createLazyPrinter(browserPath?: string): LazyPrinter {
  let opening: Promise<Printer> | null = null;
  const lazy: LazyPrinter = {
    refused: null,
    async print(name, html, pageSize, dateMs) {
      opening ??= openPrinter({ browserPath });
      try {
        const printer = await opening;
        return await printer.print({ name, html, pageSize, dateMs });
      } catch (error) {
        if (!(error instanceof NoBrowser)) throw error;
        lazy.refused = error;
        return null;
      }
    },
    async close() {
      const printer = await opening?.catch(() => null);
      await printer?.close();
    },
  };
  return lazy;
}
