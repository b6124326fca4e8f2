/** The browsers of this machine that the desk is tried in, from a file's address. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';
import { pathToFileURL } from 'node:url';
import puppeteer, { type Browser, type Page } from 'puppeteer';
import { browserPath } from '../report/browser-here.ts';

export interface Kind {
  readonly name: 'Chromium' | 'Firefox';
  readonly path: string | undefined;
}

const onPath = (names: readonly string[]) =>
  (process.env.PATH ?? '')
    .split(delimiter)
    .flatMap((folder) => names.map((name) => join(folder, name)))
    .find((file) => existsSync(file));

export const BROWSERS: readonly Kind[] = [
  { name: 'Chromium', path: browserPath },
  { name: 'Firefox', path: onPath(['firefox-esr', 'firefox']) },
];
/** STANDSTILL_DESK=all: every browser, session and way; an ordinary run takes Chromium and what breaks most easily. */
export const ALL = process.env.STANDSTILL_DESK === 'all';
export const isTried = ({ name, path }: Kind): boolean => path !== undefined && (ALL || name === 'Chromium');
for (const { name, path } of BROWSERS)
  if (!path && (ALL || name === 'Chromium')) console.warn(`No ${name} on this machine: the desk is not tried in it.`);

/** @param offline whatever asks the network is refused */
export function launch({ name, path }: Kind, offline = true): Promise<Browser> {
  const common = { executablePath: path, protocolTimeout: 280_000 };
  if (name === 'Firefox')
    // A proxy that is not there: whatever asks the network is refused.
    return puppeteer.launch({
      ...common,
      browser: 'firefox',
      extraPrefsFirefox: {
        'network.proxy.type': 1,
        'network.proxy.http': '127.0.0.1',
        'network.proxy.http_port': 9,
        'network.proxy.ssl': '127.0.0.1',
        'network.proxy.ssl_port': 9,
      },
    });
  const args = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  return puppeteer.launch({ ...common, args: [...args, ...(offline ? ['--proxy-server=127.0.0.1:9'] : [])] });
}

/** The page, and what it said and asked for that it should not have. */
export async function openDesk(browser: Browser, file: string): Promise<{ page: Page; faults: string[] }> {
  const page = await browser.newPage();
  const faults: string[] = [];
  page.on('request', (request) => {
    if (!/^(file|blob|data):|^about:/.test(request.url())) faults.push(`asked for ${request.url()}`);
  });
  page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
  page.on('pageerror', (error) => faults.push(String(error)));
  await page.goto(pathToFileURL(file).href);
  await page.waitForSelector('#log');
  return { page, faults };
}

/** As JSON takes them into a page. */
export interface Packed {
  readonly path: string;
  readonly base64: string;
}

export function packed(folder: string): Packed[] {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile())
    .map((one) => {
      const file = join(one.parentPath, one.name);
      return {
        path: file.slice(folder.length + 1).replaceAll('\\', '/'),
        base64: readFileSync(file).toString('base64'),
      };
    });
}
