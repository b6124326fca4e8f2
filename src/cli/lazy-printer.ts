/** One browser for everything that is printed, started when the first page is ready. */
import { NoBrowser, openPrinter, type Printer } from '../report/pdf/browser.ts';

export interface LazyPrinter {
  /** Why there is no browser, once that is known. */
  refused: NoBrowser | null;
  /** What PDFs of this browser lack, since it lays them down in another way. */
  readonly lacks: Set<'marks' | 'data'>;
  /** Null where no browser can be had: the report is then written without its PDF. `dateMs`: the document's date. */
  print(name: string, html: string, pageSize: 'a4' | 'letter', dateMs: number): Promise<Buffer | null>;
  close(): Promise<void>;
}

export function createLazyPrinter(browserPath?: string): LazyPrinter {
  let opening: Promise<Printer> | null = null;
  const lazy: LazyPrinter = {
    refused: null,
    lacks: new Set(),
    async print(name, html, pageSize, dateMs) {
      opening ??= openPrinter({ browserPath, onUnmarked: () => lazy.lacks.add('marks') });
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

const LACKS = {
  marks: 'the marks that screen readers go by (PDF/UA-1)',
  data: 'report.json as an attachment',
};

/** Why there is no PDF, or what the PDFs lack, in lines; empty where all is well. */
export function printerTrouble({ refused, lacks }: LazyPrinter): string {
  const without = [...lacks].sort().reverse();
  const unlike = `PDFs were written without ${without.map((one) => LACKS[one]).join(' and without ')}: this browser lays them down in a way that is not known here. Another Chromium may do better: --browser PATH.\n`;
  return `${refused ? `No PDF was written: ${refused.message}\n` : ''}${without.length > 0 ? unlike : ''}`;
}
