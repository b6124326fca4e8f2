/**
 * A person at the desk, in real browsers: from a log to a report and into an archive, with mouse and with keyboard alone.
 * Much of it only with STANDSTILL_DESK=all.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createServer, type Server } from 'node:http';
import { createRequire } from 'node:module';
import type { AddressInfo } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { strFromU8, unzipSync } from 'fflate';
import type { Browser, Page } from 'puppeteer';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { deskPage } from '../../src/cli/desk-page.ts';
import { GERMAN_STYLE } from '../../src/demo/log-text.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { readSession, resolveLogFiles } from '../../src/manifest/read-session.ts';
import { VERSION } from '../../src/node/version.ts';
import { smallSession } from '../cases/small-sessions.ts';
import { disk } from '../demo/disk.ts';
import { ALL, BROWSERS, isTried, launch, openDesk } from './browsers.ts';

// biome-ignore lint/suspicious/noExplicitAny: what stands in functions below is read by the browser.
declare const document: any, window: any, localStorage: any, navigator: any, axe: any;

const folder = mkdtempSync(join(tmpdir(), 'standstill-desk-'));
const desk = join(folder, 'desk.html');
/** As `standstill desk --language de` writes it. */
const german = join(folder, 'german.html');
const AXE = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const logs: Record<'plain' | 'german' | 'long' | 'other', string> = { plain: '', german: '', long: '', other: '' };

beforeAll(async () => {
  const maker = { version: VERSION, shop: null, keys: { tool: 'tool', face: 'face' } };
  writeFileSync(desk, deskPage(maker));
  writeFileSync(german, deskPage({ ...maker, language: 'de' }));
  const plain = smallSession('plain');
  const styles = { plain: plain.style, german: { ...GERMAN_STYLE, split: 'one', gzip: false } } as const;
  for (const [name, style] of Object.entries(styles)) {
    const session = join(folder, name);
    await writeSession(session, { ...plain, style }, disk);
    logs[name as 'plain'] = join(session, resolveLogFiles(readSession(session, nodeFiles), nodeFiles)[0] as string);
  }
  const [header, ...rows] = readFileSync(logs.plain, 'utf8').trim().split('\n');
  logs.other = join(folder, 'other.csv');
  writeFileSync(logs.other, [header, ...rows.slice(0, -1)].join('\n'));
  const from = Date.parse(`${(rows[0] as string).split(',')[0]}Z`);
  logs.long = join(folder, 'long.csv');
  const rest = (rows[0] as string).split(',').slice(1).join(',');
  const many = Array.from({ length: 2_000_000 }, (_, k) => `${new Date(from + k * 1000).toISOString()},${rest}`);
  writeFileSync(logs.long, [header, ...many].join('\n'));
}, 120_000);
afterAll(() => rmSync(folder, { recursive: true, force: true }));

describe.each(BROWSERS)('in $name', { timeout: 250_000 }, (kind) => {
  let browser: Browser;
  let page: Page;
  let faults: string[];
  beforeAll(async () => {
    if (!isTried(kind)) return;
    browser = await launch(kind);
    ({ page, faults } = await openDesk(browser, desk));
    await page.setViewport({ width: 1280, height: 900 });
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
  });
  const test = it.skipIf(!isTried(kind));
  const thorough = it.skipIf(!isTried(kind) || !ALL);

  const anew = async (language = 'en') => {
    await page.evaluate(() => localStorage.clear());
    await page.reload();
    await page.waitForSelector('#log');
    await page.select('#language', language);
  };
  const bring = async (log: string) => {
    await (await page.$('input#log'))?.uploadFile(log);
    await page.waitForSelector('#understood', { visible: true });
  };
  const textOf = (selector: string) => page.$eval(selector, (one) => one.textContent ?? '');
  const messages = () => page.$$eval('.message', (all) => all.map((one) => one.textContent ?? '').filter(Boolean));
  const reportText = async () => {
    const frame = await (await page.waitForSelector('iframe', { timeout: 200_000 }))?.contentFrame();
    await frame?.waitForSelector('h1');
    return (await frame?.$eval('html', (html) => html.textContent)) ?? '';
  };
  const NEEDED: readonly (readonly [field: string, value: string])[] = [
    ['session-title', 'Flat after a weekend <b>'],
    ['session-purpose', 'complaint'],
    ['vehicle-description', 'Panel van'],
    ['vehicle-powertrain', 'combustion'],
    ['battery-chemistry', 'flooded'],
    ['battery-capacity', '70'],
    ['log-columns-current-positive', 'charging'],
  ];

  test('a person gets from the log to the report', async () => {
    await anew();
    await bring(logs.plain);
    expect(await page.$eval('#start', (start) => start.matches(':disabled'))).toBe(true);
    for (const [field, value] of NEEDED) {
      const isChoice = await page.$eval(`#field-${field}`, (input) => input.matches('select'));
      if (isChoice) await page.select(`#field-${field}`, value);
      else await page.type(`#field-${field}`, value);
    }
    await page.click('#know');
    expect(await messages()).toEqual([]);
    expect(await page.$eval('#field-battery-capacity', (input) => (input as unknown as { value: string }).value)).toBe(
      '70 Ah',
    );
    await page.click('#start');
    expect(await reportText()).toContain('Flat after a weekend <b>');
  });

  thorough('and with the keyboard alone', async () => {
    await anew();
    await bring(logs.plain);
    const values = new Map(NEEDED.map(([field, value]) => [`field-${field}`, value]));
    await page.focus('#log');
    for (let tabs = 0; tabs < 80; tabs++) {
      await page.keyboard.press('Tab');
      const [id, isChoice] = await page.evaluate(() => {
        const at = document.activeElement;
        return [at.id as string, at.matches('select') as boolean] as const;
      });
      if (id === 'start') break;
      const value = values.get(id);
      if (value === undefined) continue;
      if (!isChoice) await page.keyboard.type(value);
      else
        for (let down = 0; down < 12; down++) {
          await page.keyboard.press('ArrowDown');
          if ((await page.evaluate(() => document.activeElement.value)) === value) break;
        }
    }
    expect(await messages()).toEqual([]);
    expect(await page.evaluate(() => document.activeElement.id)).toBe('start');
    await page.keyboard.press('Enter');
    expect(await reportText()).toContain('Panel van');
  });

  test('a German log with decimal commas, in German', async () => {
    await anew('de');
    await bring(logs.german);
    for (const [field, value] of NEEDED.filter(([, value]) => value !== '70'))
      if (await page.$eval(`#field-${field}`, (input) => input.matches('select')))
        await page.select(`#field-${field}`, value);
      else await page.type(`#field-${field}`, value);
    await page.select('#field-log-columns-current-positive', smallSession('plain').style.positive);
    await page.click('#know');
    expect(await messages()).toEqual([]);
    await page.click('#start');
    expect(await reportText()).toMatch(/Schlaf/);
  });

  thorough('what was typed is there after the page was closed, and the text is read both ways', async () => {
    await anew();
    await bring(logs.plain);
    await page.type('#field-session-title', 'Kept');
    await page.click('#know');
    await page.reload();
    await page.waitForSelector('#log');
    expect(await textOf('#have')).toContain('What you wrote is still here');
    await bring(logs.plain);
    const typedIn = (id: string) => page.$eval(id, (input) => (input as unknown as { value: string }).value);
    expect(await typedIn('#field-session-title')).toBe('Kept');
    await page.$eval('#text', (area) => {
      const text = area as unknown as { value: string; dispatchEvent(event: unknown): void };
      text.value = text.value.replace('Kept', 'Written as text').replace(/capacity:.*/, 'capacty: 70');
      text.dispatchEvent(new Event('change'));
    });
    expect(await typedIn('#field-session-title')).toBe('Written as text');
  });

  thorough('wrong columns are told beside their field, as on the command line', async () => {
    await anew();
    await bring(logs.plain);
    const set = (id: string, value: string) =>
      page.$eval(
        id,
        (input, text) => {
          const own = input as unknown as { value: string; dispatchEvent(event: unknown): void };
          own.value = text;
          own.dispatchEvent(new Event('change'));
        },
        value,
      );
    await set('#field-battery-capacity', '70 mA');
    expect(await textOf('#field-battery-capacity-message')).toMatch(/^Found a current \(mA\)\. Expected: a charge/);
    await set('#field-battery-capacity', '');
    for (const [field, value] of NEEDED) if (value !== '70') await set(`#field-${field}`, value);
    await set('#field-log-columns-voltage-name', 'no_such_column');
    await page.click('#start');
    await page.waitForFunction(() =>
      document.querySelector('section[aria-labelledby=read] [role=alert]')?.textContent.includes('no_such_column'),
    );
    expect(await textOf('#field-log-columns-voltage-name-message')).toContain('no_such_column');
    await set('#field-log-columns-voltage-name', 'battery_v');
    expect(await textOf('#field-log-columns-voltage-name-message')).toBe('');
  });

  thorough(
    'its language is its reader’s choice, which is kept, and a report that was to come in it follows',
    async () => {
      await page.evaluate(() => localStorage.clear());
      await page.goto(pathToFileURL(german).href);
      await page.waitForSelector('#log');
      expect(await page.evaluate(() => document.documentElement.lang)).toBe('de');
      await bring(logs.plain);
      expect(await page.$eval('#text', (area) => (area as unknown as { value: string }).value)).toContain(
        'language: de',
      );
      await page.select('#language', 'en');
      expect(await page.$eval('#text', (area) => (area as unknown as { value: string }).value)).toContain(
        'language: en',
      );
      await page.reload();
      await page.waitForSelector('#log');
      expect(await page.evaluate(() => document.documentElement.lang)).toBe('en');
      await page.goto(pathToFileURL(desk).href);
      await page.waitForSelector('#log');
    },
  );

  test('a long log is stopped in the middle, and begun again', async () => {
    await anew();
    await bring(logs.long);
    for (const [field, value] of NEEDED)
      if (await page.$eval(`#field-${field}`, (input) => input.matches('select')))
        await page.select(`#field-${field}`, value);
      else await page.type(`#field-${field}`, value);
    await page.click('#know');
    await page.click('#start');
    await page.waitForFunction(() => /\d+ ?% read/.test(document.getElementById('said').textContent));
    await page.click('#stop');
    await page.waitForFunction(() => document.getElementById('said').textContent.startsWith('Stopped'));
    expect(await page.$eval('#start', (start) => start.matches(':disabled'))).toBe(false);
    expect(await page.$('iframe')).toBeNull();
  });

  const widths: [number, string][] = [[360, 'en']];
  if (ALL) widths.push([1280, 'de']);
  test.each(widths)('fits %i px, and a screen reader finds its way', async (width, language) => {
    await page.setViewport({ width, height: 900 });
    await anew(language);
    await bring(logs.plain);
    await page.$$eval('details', (all) => {
      for (const one of all) (one as unknown as { open: boolean }).open = true;
    });
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    if (kind.name === 'Chromium') {
      // Firefox takes no script that its page's policy does not know.
      await page.evaluate(AXE);
      const { violations } = await page.evaluate(() => axe.run());
      expect(violations.map((one: { id: string; nodes: { html: string }[] }) => [one.id, one.nodes[0]?.html])).toEqual(
        [],
      );
    }
    await page.setViewport({ width: 1280, height: 900 });
  });

  test('asks the network for nothing, and its policy is kept', () => {
    expect(faults).toEqual([]);
  });
});

it('is a file of at most 5 MB', () => {
  expect(statSync(desk).size).toBeLessThan(5e6);
});

const [chromium] = BROWSERS;
/** A browser opens no folder without a person; one of its own, which pages from a file's address have not, stands for it. */
describe.skipIf(!chromium?.path || !ALL)('the archive, with leave to write', { timeout: 250_000 }, () => {
  let browser: Browser;
  let page: Page;
  let server: Server;
  let reportOfOne = '';
  beforeAll(async () => {
    server = createServer((_, response) => {
      response.setHeader('content-type', 'text/html; charset=utf-8');
      response.end(readFileSync(desk));
    });
    await new Promise<void>((resolve) => void server.listen(0, '127.0.0.1', resolve));
    browser = await launch(chromium as (typeof BROWSERS)[number], false);
    page = await browser.newPage();
    await page.goto(`http://127.0.0.1:${(server.address() as AddressInfo).port}/`);
    await page.waitForSelector('#log');
    await page.evaluate(() => {
      window.showDirectoryPicker = async () =>
        (await navigator.storage.getDirectory()).getDirectoryHandle('out', { create: true });
    });
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
    server?.close();
  });

  /** Paths and texts of all that lies in the archive. */
  const tree = async () =>
    new Map(
      await page.evaluate(async () => {
        const found: [string, string][] = [];
        // biome-ignore lint/suspicious/noExplicitAny: the browser's own.
        const walk = async (at: any, before: string): Promise<void> => {
          for await (const [name, handle] of at.entries()) {
            if (handle.kind === 'directory') await walk(handle, `${before}${name}/`);
            else found.push([before + name, await (await handle.getFile()).text()]);
          }
        };
        await walk(await window.showDirectoryPicker(), '');
        return found;
      }),
    );
  const build = async (title: string, id: string, registration: string, log = logs.plain) => {
    await page.evaluate(() => localStorage.clear());
    await (await page.$('input#log'))?.uploadFile(log);
    await page.waitForSelector('#understood', { visible: true });
    const manifest = readFileSync(join(folder, 'plain', 'session.yaml'), 'utf8')
      .replace(/id: .*/, `id: ${id}`)
      .replace(/title: .*/, `title: ${title}`)
      .replace(/files:\n *- .*/, `files: ["${log.split('/').at(-1)}"]`)
      .replace(/( *)description:/, `$1registration: ${registration}\n$1description:`);
    await page.$eval(
      '#text',
      (area, text) => {
        const own = area as unknown as { value: string; dispatchEvent(event: unknown): void };
        own.value = text;
        own.dispatchEvent(new Event('change'));
      },
      manifest,
    );
    await page.evaluate(() => document.getElementById('kept')?.remove());
    await page.click('#start');
    await page.waitForSelector('#kept', { timeout: 200_000 });
  };
  const keep = async (says: string) => {
    await page.click('#keep_folder');
    await page.waitForFunction((text) => document.getElementById('kept').textContent.startsWith(text), {}, says);
  };

  it('keeps sessions side by side, refuses another under a name, and compares two', async () => {
    await build('One', 'one', 'A 1');
    await keep('Kept');
    const first = await tree();
    reportOfOne = first.get('sessions/one/report.json') ?? '';
    expect([...first.keys()]).toEqual(
      expect.arrayContaining([
        'index.html',
        'fleet.html',
        'desk.html',
        'sessions/one/report.json',
        'sessions/one/made-from.json',
      ]),
    );
    expect(first.has('.lock')).toBe(false);
    await build('Two', 'two', 'A 1');
    await keep('Kept');
    await build('Another', 'one', 'B 2', logs.other);
    await keep('Under the name one');
    expect((await tree()).get('sessions/one/report.json')).toBe(first.get('sessions/one/report.json'));
    await page.select('#compare-before', 'one');
    await page.select('#compare-after', 'two');
    await page.click('#compare');
    await page.waitForFunction(() => document.getElementById('archive-told').textContent.startsWith('Kept'));
    const all = await tree();
    expect(JSON.parse(all.get('comparisons/one--two/comparison.json') ?? '{}')).toMatchObject({
      before: 'one',
      after: 'two',
    });
    expect(all.get('index.html')).toContain('sessions/two/index.html');
    const vehicle = [...all].find(([path]) => /^vehicles\/.*\.html$/.test(path));
    expect(vehicle?.[1]).toContain('comparisons/one--two/index.html');
  });

  it('waits while another program writes', async () => {
    await page.evaluate(async () => {
      const out = await window.showDirectoryPicker();
      const stream = await (await out.getFileHandle('.lock', { create: true })).createWritable();
      await stream.write(JSON.stringify({ pid: 1, host: 'another' }));
      await stream.close();
    });
    await build('Three', 'three', 'C 3');
    await keep('Another program is writing');
    await page.evaluate(async () => (await window.showDirectoryPicker()).removeEntry('.lock'));
    await page.waitForFunction(() => document.getElementById('kept').textContent.startsWith('Kept'));
    expect((await tree()).has('sessions/three/index.html')).toBe(true);
  });

  it('leaves the report as it was where a person gives no leave, and says so', async () => {
    await page.reload();
    await page.waitForSelector('#log');
    await page.evaluate(() => {
      window.showDirectoryPicker = async () => {
        throw new DOMException('no leave', 'NotAllowedError');
      };
    });
    await build('Four', 'four', 'D 4');
    await keep('The browser was given no leave');
    expect(await page.$('iframe')).not.toBeNull();
  });

  it('is given as one file where the browser may write into no folder', async () => {
    await page.evaluateOnNewDocument(() => {
      delete window.showDirectoryPicker;
      const address = URL.createObjectURL;
      URL.createObjectURL = (blob: Blob) => {
        if (blob.type === 'application/zip') window.zip = blob;
        return address.call(URL, blob);
      };
    });
    await page.reload();
    await page.waitForSelector('#log');
    await build('Five', 'five', 'E 5');
    expect(await page.$('#keep_folder')).toBeNull();
    const there = join(folder, 'archive');
    mkdirSync(join(there, 'sessions', 'one'), { recursive: true });
    writeFileSync(join(there, 'sessions', 'one', 'report.json'), reportOfOne);
    await (await page.$('input#archive-files'))?.uploadFile(there);
    await page.waitForFunction(() => document.getElementById('archive-told').textContent !== '');
    await page.click('#keep_zip');
    await page.waitForFunction(() => window.zip !== undefined);
    const bytes = await page.evaluate(async () => [...new Uint8Array(await window.zip.arrayBuffer())]);
    const files = unzipSync(Uint8Array.from(bytes));
    expect(Object.keys(files)).toEqual(
      expect.arrayContaining([
        'index.html',
        'fleet.html',
        'desk.html',
        'sessions/five/index.html',
        'sessions/five/report.json',
      ]),
    );
    // Unpacked where the archive is, its index has the sessions that are there too.
    const index = strFromU8(files['index.html'] as Uint8Array);
    expect(index).toContain('sessions/one/index.html');
    expect(index).toContain('sessions/five/index.html');
  });
});
