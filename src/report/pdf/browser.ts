/** Prints pages of ours to PDF with a browser that is found on this machine: one browser, many pages, two at once. */
import { tmpdir } from 'node:os';
import type { Browser, HTTPRequest, Page } from 'puppeteer';
import { UserError } from '../../base/problem.ts';
import { embeddedBrowser } from './browser-embedded.ts';
import { type Candidate, findBrowsers, type Host, remedy, thisHost } from './browser-find.ts';
import { type RunningBrowser, startBrowser } from './browser-start.ts';
import { pinPdf } from './pdf.ts';
import { accessiblePdf } from './pdf-accessible.ts';

export interface PrintJob {
  /** A page that is whole in one file; its `<title>` and `lang` become the document's. */
  readonly html: string;
  /** What to call it when printing fails. */
  readonly name: string;
  /** Used where the page's own `@page` rule names no size. */
  readonly pageSize: 'a4' | 'letter';
  /** The document's date, in milliseconds since 1970: that of its content, since the clock's would change the bytes. */
  readonly dateMs: number;
}

export interface Printer {
  /** The browser in use and how it was found, for people. */
  readonly browser: string;
  /** Throws `UserError` when a page could not be printed even by a fresh browser. */
  print(job: PrintJob): Promise<Buffer>;
  /** Ends the browser; a print that is still running fails. */
  close(): Promise<void>;
}

export interface PrinterOptions {
  /** The only browser to try, where the user named one. */
  readonly browserPath?: string;
  /** Longest start of a browser, and longest print of a page. Default 60 s. */
  readonly timeoutMs?: number;
  readonly host?: Host;
  /** Hears where this browser lays its files down in another way: the PDF is whole, and not marked up as PDF/UA-1 asks. */
  readonly onUnmarked?: () => void;
}

/** No browser could be found or started. Reports are still written as HTML; `command` is what mends it here. */
export class NoBrowser extends UserError {
  readonly tried: readonly string[];
  readonly command: string;

  constructor(tried: readonly string[], command: string) {
    super(`no browser to print the PDF with. Tried: ${tried.join('; ')}. To put it right: ${command}`);
    this.name = 'NoBrowser';
    this.tried = tried;
    this.command = command;
  }
}

const PAGES_AT_ONCE = 2;

/**
 * The page is served under this address, which leads nowhere (RFC 2606), instead of from its file: then no request for
 * a file is ever granted, a browser that may not read the folder prints all the same, and the PDF does not depend on
 * where the file lies.
 */
const PAGE_ADDRESS = 'https://standstill.invalid/';

/** Finds and starts a browser. Throws `NoBrowser`. */
export async function openPrinter(options: PrinterOptions = {}): Promise<Printer> {
  const { host = thisHost(), timeoutMs = 60_000 } = options;
  const { candidate, running: first } = await startFirst(host, options.browserPath, timeoutMs);
  const name = `${await first.browser.version()} (${candidate.from})`;
  const takeTurn = turns(PAGES_AT_ONCE);

  let current = Promise.resolve(first);
  let closed = false;
  const givenUp = new Set<RunningBrowser>();
  function replace(running: RunningBrowser): void {
    givenUp.add(running);
    current = running.stop().then(() => start(candidate, host, timeoutMs));
    current.catch(() => undefined); // told by each print that waits for it
  }

  async function print(job: PrintJob): Promise<Buffer> {
    const html = Buffer.from(forPaper(job.html));
    for (let failures = 0; ; ) {
      let running: RunningBrowser | undefined;
      try {
        running = await current;
        const pdf = await Promise.race([printPage(running.browser, html, job.pageSize, timeoutMs), running.gone]);
        const pinned = pinPdf(pdf, job.dateMs);
        const accessible = accessiblePdf(pinned, job.html, job.dateMs);
        if (accessible === null) options.onUnmarked?.();
        return accessible ?? pinned;
      } catch (error) {
        // When another page's failure took this browser away, that is no failure of this page.
        if (running && givenUp.has(running)) continue;
        if (closed) throw error;
        failures += 1;
        if (running) replace(running);
        if (failures === 2 || !running) throw new UserError([{ file: job.name, message: failure(name, error) }]);
      }
    }
  }

  return {
    browser: name,
    print: (job) => takeTurn(() => print(job)),
    async close() {
      closed = true;
      await (await current.catch(() => undefined))?.stop();
    },
  };
}

/**
 * Links to other files would lead to the address under which the page is served, which is nowhere. Scripts do not run; the
 * data for them is half of a page, and would cost a tenth of the time to print it.
 */
function forPaper(html: string): string {
  return html.replaceAll(/(<a\b[^>]*?) href="(?!#)[^"]*"/g, '$1').replaceAll(/<script\b[\s\S]*?<\/script>/g, '');
}

async function startFirst(host: Host, browserPath: string | undefined, timeoutMs: number) {
  const search = findBrowsers(host, browserPath);
  const tried = [...search.missing];
  for (const candidate of search.candidates) {
    try {
      return { candidate, running: await start(candidate, host, timeoutMs) };
    } catch (error) {
      tried.push(`${candidate.from}${candidate.path ? ` (${candidate.path})` : ''} did not start: ${cause(error)}`);
    }
  }
  throw new NoBrowser(tried, remedy(host));
}

async function start(candidate: Candidate, host: Host, timeoutMs: number): Promise<RunningBrowser> {
  const program = candidate.path === undefined ? await embeddedBrowser(host) : { path: candidate.path, env: {} };
  return startBrowser(program, host, timeoutMs);
}

async function printPage(
  browser: Browser,
  html: Buffer,
  pageSize: PrintJob['pageSize'],
  timeoutMs: number,
): Promise<Uint8Array> {
  const tab = idleTabs(browser).pop() ?? (await openTab(browser));
  const { page } = tab;
  tab.html = html;
  try {
    const printed = async () => {
      await page.goto(PAGE_ADDRESS, { waitUntil: 'load', timeout: timeoutMs });
      return page.pdf({
        format: pageSize,
        preferCSSPageSize: true,
        printBackground: true,
        tagged: true,
        outline: true,
        timeout: timeoutMs,
      });
    };
    const pdf = await Promise.race([printed(), tab.crashed]);
    idleTabs(browser).push(tab);
    return pdf;
  } catch (error) {
    // A page that does not close belongs to a browser that is about to be replaced.
    await page.close().catch(() => undefined);
    throw error;
  }
}

/** Where one page after another is loaded: opening a new one for each would cost a quarter of the time to print it. */
interface Tab {
  readonly page: Page;
  readonly crashed: Promise<never>;
  /** What is loaded next. */
  html: Buffer;
}

const tabs = new WeakMap<Browser, Tab[]>();

/** Those of a browser in which nothing is printed just now. */
function idleTabs(browser: Browser): Tab[] {
  const idle = tabs.get(browser) ?? [];
  tabs.set(browser, idle);
  return idle;
}

async function openTab(browser: Browser): Promise<Tab> {
  const page = await browser.newPage();
  const crashed = new Promise<never>((_, reject) => page.once('error', reject));
  crashed.catch(() => undefined); // nobody waits for it between two prints
  const tab: Tab = { page, crashed, html: Buffer.alloc(0) };
  await page.setJavaScriptEnabled(false);
  await page.setRequestInterception(true);
  page.on('request', (request) => void answer(request, tab.html));
  return tab;
}

/** Grants the page itself and what it carries inside; everything else is refused, files as well as the network. */
export async function answer(
  request: Pick<HTTPRequest, 'url' | 'respond' | 'continue' | 'abort'>,
  html: Buffer,
): Promise<void> {
  const url = request.url();
  try {
    if (url === PAGE_ADDRESS) await request.respond({ body: html, contentType: 'text/html; charset=utf-8' });
    else if (url.startsWith('data:')) await request.continue();
    else await request.abort('blockedbyclient');
  } catch {
    // The page or its browser is gone, and the print that waits for it reports that.
  }
}

/** Lets at most `limit` pieces of work run at once, in the order in which they were handed in. */
function turns(limit: number): <T>(work: () => Promise<T>) => Promise<T> {
  const waiting: (() => void)[] = [];
  let free = limit;
  return async (work) => {
    if (free > 0) free -= 1;
    else await new Promise<void>((resolve) => waiting.push(resolve));
    try {
      return await work();
    } finally {
      const next = waiting.shift();
      if (next) next();
      else free += 1;
    }
  };
}

function failure(browser: string, error: unknown): string {
  return `${browser} could not print this page, and a fresh start of it could not either: ${cause(error)}`;
}

/** What a failed start or print says, in a line; the browser's log holds the two causes that a user can mend. */
function cause(error: unknown): string {
  const text = error instanceof Error ? error.message : String(error);
  // The browser lays a PDF down among its temporary files before it hands it over.
  if (text.includes('(IO.read)'))
    return `${text}. Is there room left in the folder for temporary files, ${tmpdir()}? With --no-pdf the page alone is written.`;
  const library = /error while loading shared libraries: ([^:\n]+)/.exec(text);
  if (library) return `the library ${library[1]} is missing`;
  if (/no usable sandbox/i.test(text)) {
    return 'this system gives it no sandbox (in a container that is one, set PUPPETEER_DANGEROUS_NO_SANDBOX=true)';
  }
  return text.trim().replace(/\n[\s\S]*/, '');
}
