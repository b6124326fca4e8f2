import { chmodSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { type AddressInfo, createServer } from 'node:net';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { UserError } from '../../../src/base/problem.ts';
import { answer, NoBrowser, openPrinter, type Printer } from '../../../src/report/pdf/browser.ts';
import { embeddedBrowser } from '../../../src/report/pdf/browser-embedded.ts';
import { findBrowsers, type Host, thisHost } from '../../../src/report/pdf/browser-find.ts';

const DATE_MS = Date.UTC(2026, 2, 8, 9, 0, 0);
const folder = mkdtempSync(join(tmpdir(), 'printing-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** This machine with a temporary folder of the test's own, in which profiles show. */
function hostWithOwnTmp(change: Partial<Host> = {}): Host {
  const tmp = mkdtempSync(join(folder, 'tmp-'));
  return { ...thisHost(), tmp, ...change };
}
const profiles = (host: Host) => readdirSync(host.tmp).filter((name) => name.startsWith('standstill-profile-'));

function pageOf(body: string, head = ''): string {
  const start = `<!doctype html><html lang="en-IE"><head><meta charset="utf-8"><title>Flat after a weekend – Ä</title>`;
  return `${start}${head}</head><body>${body}</body></html>`;
}

const TABLE = `<table><caption>Wakes</caption><thead><tr><th scope="col">At</th><th scope="col">Draw</th></tr></thead>
<tbody><tr><th scope="row">18:20</th><td>40 mA</td></tr><tr><th scope="row">19:20</th><td>41 mA</td></tr></tbody></table>`;
const REPORT = `<h1>What was found</h1><p>It wakes every hour.</p><h2>Wakes</h2>${TABLE}
<svg role="img" width="80" height="20"><title>Draw over time</title><path d="M0 0L80 20" stroke="#000"/></svg>`;

/** The browser that a user of this machine would get, and the one that everybody on Linux has. */
const browsers: [string, Partial<Host>][] = [['the first found', {}]];
if (findBrowsers(thisHost()).candidates.some(({ path }) => path === undefined)) {
  browsers.push(['the embedded one', { isProgram: () => false }]);
}
const anyBrowser = findBrowsers(thisHost()).candidates.length > 0;
if (!anyBrowser) console.warn('No browser on this machine: the tests that print are skipped.');

describe.skipIf(!anyBrowser).each(browsers)('printing with %s', (_, change) => {
  const host = hostWithOwnTmp(change);
  let printer: Printer;
  beforeAll(async () => {
    printer = await openPrinter({ host });
  });
  afterAll(() => printer.close());
  const print = async (html: string, pageSize: 'a4' | 'letter' = 'a4') =>
    (await printer.print({ name: 'page', html, pageSize, dateMs: DATE_MS })).toString('latin1');

  test('a link within the page leads there and says where; one to another file is plain text', async () => {
    const pdf = await print(
      pageOf(`<p><a href="#w">Wakes</a> <a class="x" href="../other.html">Other</a></p><h2 id="w">W</h2>`),
    );
    expect(pdf.match(/\/Subtype \/Link/g)).toHaveLength(1);
    expect(pdf).toContain(`/Contents <FEFF${Buffer.from('Wakes', 'utf16le').swap16().toString('hex').toUpperCase()}>`);
    expect(pdf).not.toContain('standstill.invalid');
  });

  test('title, language, date, bookmarks and a structure with headings, table and figure', async () => {
    const pdf = await print(pageOf(REPORT));
    expect(titleOf(pdf)).toBe('Flat after a weekend – Ä');
    expect(pdf).toContain("/CreationDate (D:20260308090000+00'00')");
    expect(pdf).toContain("/ModDate (D:20260308090000+00'00')");
    const catalog = /<<\/Type \/Catalog[\s\S]*?endobj/.exec(pdf)?.[0] ?? '';
    for (const entry of [
      '/MarkInfo',
      '/Marked true',
      '/StructTreeRoot',
      '/Outlines',
      '/DisplayDocTitle true',
      '/Lang (en-IE)',
    ]) {
      expect(catalog).toContain(entry);
    }
    for (const tag of ['H1', 'P', 'H2', 'Table', 'Caption', 'TR', 'TH', 'TD', 'Figure']) {
      expect(pdf).toMatch(new RegExp(`/S /${tag}\\b`));
    }
    expect(pdf).toContain('/Alt (Draw over time)');
    expect(pdf.match(/\/Title \((What was found|Wakes)\)\n\/Dest/g)).toHaveLength(2);
  });

  test('A4 and Letter', async () => {
    const page = pageOf(REPORT, '<style>@page{margin:15mm}</style>');
    expect(pageMm(await print(page, 'a4'))).toEqual([210, 297]);
    expect(pageMm(await print(page, 'letter'))).toEqual([216, 279]);
    const landscape = pageOf(REPORT, '<style>@page{size:A4 landscape}</style>');
    expect(pageMm(await print(landscape, 'letter'))).toEqual([297, 210]);
  });

  test('the same bytes twice: in another process, and beside other pages', async () => {
    const page = pageOf(REPORT);
    const first = await print(page);
    const other = pageOf(TABLE.repeat(40));
    const [again, once, twice] = await Promise.all([print(page), print(other), print(other)]);
    expect(again).toBe(first);
    expect(twice).toBe(once);
    const second = await openPrinter({ host: hostWithOwnTmp(change) });
    const job = { name: 'page', pageSize: 'a4', dateMs: DATE_MS } as const;
    expect((await second.print({ ...job, html: other })).toString('latin1')).toBe(once);
    expect((await second.print({ ...job, html: page })).toString('latin1')).toBe(first);
    await second.close();
  });

  test('no request leaves the page, not even a connection', async () => {
    const { at, connections, stop } = await listening();
    const early = `<link rel="preconnect" href="${at}"><link rel="prefetch" href="${at}/p">`;
    expect(await print(asking(at, early))).toMatch(/^%PDF-/);
    expect(connections()).toBe(0);
    stop();
  });

  test('no file is read: a frame and an image of one print as if it were not there', async () => {
    const secret = join(folder, 'secret-1.html');
    writeFileSync(secret, '<p>WORDS THAT WOULD SHOW</p>');
    const frame = (attribute: string) => print(pageOf(`<h1>Text</h1><iframe ${attribute}></iframe>`));
    const missing = await frame(`src="file://${join(folder, 'secret-2.html')}"`);
    expect(await frame(`src="file://${secret}"`)).toBe(missing);
    // That a frame which may be read does change the bytes: otherwise the line above shows nothing.
    expect(await frame('srcdoc="<p>WORDS THAT WOULD SHOW</p>"')).not.toBe(missing);
  });

  test('data: images are drawn, scripts do not run', async () => {
    const dot =
      'data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==';
    const pdf = await print(
      pageOf(`<h1>T</h1><img alt="A dot" src="${dot}"><script>document.title = 'changed'</script>`),
    );
    expect(pdf).toMatch(/\/Subtype \/Image\n\/Width 1\n/);
    expect(titleOf(pdf)).toBe('Flat after a weekend – Ä');
  });
});

describe.skipIf(!anyBrowser || process.platform === 'win32')('a browser that is killed', () => {
  test('is started again, the page is printed all the same, and no profile stays behind', async () => {
    const host = hostWithOwnTmp();
    const pidFile = join(host.tmp, 'pid');
    const kill = () => process.kill(Number(readFileSync(pidFile, 'utf8')), 'SIGKILL');
    const wrapper = await scripted(host, `echo $$ > '${pidFile}'`);

    const printer = await openPrinter({ host, browserPath: wrapper });
    const job = { name: 'page', html: pageOf(REPORT), pageSize: 'a4', dateMs: DATE_MS } as const;
    const whole = await printer.print(job);
    expect(profiles(host)).toHaveLength(1);

    kill(); // between two prints
    expect(await printer.print(job)).toEqual(whole);

    for (const ms of [2, 60]) {
      const atOnce = [printer.print(job), printer.print(job), printer.print(job)];
      setTimeout(kill, ms); // while two are being printed and one waits
      for (const pdf of await Promise.all(atOnce)) expect(pdf).toEqual(whole);
    }

    expect(profiles(host)).toHaveLength(1);
    kill();
    await printer.close();
    expect(profiles(host)).toEqual([]);
  });
});

describe('what a page asks for', () => {
  const html = Buffer.from('<!doctype html>');
  async function answerTo(url: string) {
    const given: unknown[] = [];
    await answer(
      {
        url: () => url,
        respond: async (response) => void given.push(response.body),
        continue: async () => void given.push('granted'),
        abort: async () => void given.push('refused'),
      },
      html,
    );
    return given;
  }

  test('the page is handed over, and what it carries inside is granted', async () => {
    expect(await answerTo('https://standstill.invalid/')).toEqual([html]);
    expect(await answerTo('data:image/png;base64,AAAA')).toEqual(['granted']);
  });

  test.each([
    'http://127.0.0.1/',
    'https://example.org/data:image/png',
    'https://standstill.invalid/charts/draw.vl.json',
    'file:///etc/hostname',
    'blob:https://standstill.invalid/1',
    'chrome://version/',
  ])('%s is refused', async (url) => {
    expect(await answerTo(url)).toEqual(['refused']);
  });
});

describe('no browser', () => {
  test('nothing found: what was tried, and one command', async () => {
    const host = hostWithOwnTmp({ isProgram: () => false, embeddedPackage: undefined, platform: 'linux', arch: 'x64' });
    const error = await openPrinter({ host: { ...host, env: {} } }).catch((thrown) => thrown);
    expect(error).toBeInstanceOf(NoBrowser);
    expect(error).toBeInstanceOf(UserError);
    expect(error.tried).toHaveLength(3);
    expect(error.command).toBe('npm ci --include=optional');
    expect(error.message).toContain(error.command);
  });

  test.skipIf(process.platform === 'win32').each([
    [
      'echo "x: error while loading shared libraries: libnss3.so: cannot open" >&2; exit 127',
      'the library libnss3.so is missing',
    ],
    ['echo "FATAL: No usable sandbox! Update your kernel" >&2; exit 1', 'gives it no sandbox'],
    ['exec sleep 30', 'did not start'],
  ])('one that does not start (%s) says why and leaves nothing behind', async (script, reason) => {
    const host = hostWithOwnTmp();
    mkdirSync(join(host.tmp, 'bin'));
    const program = join(host.tmp, 'bin', 'chromium');
    writeFileSync(program, `#!/bin/sh\n${script}\n`);
    chmodSync(program, 0o700);
    const only = { ...host, env: { PATH: `${join(host.tmp, 'bin')}:/bin` }, embeddedPackage: undefined };
    const isProgram = (path: string) => path === program;
    const error = await openPrinter({ host: { ...only, isProgram }, timeoutMs: 500 }).catch((thrown) => thrown);
    expect(error).toBeInstanceOf(NoBrowser);
    expect(error.tried.join('\n')).toContain(`chromium on PATH (${program}) did not start`);
    expect(error.tried.join('\n')).toContain(reason);
    expect(profiles(host)).toEqual([]);
  });
});

/** A program that does what `line` says and then becomes the first browser found. */
async function scripted(host: Host, line: string): Promise<string> {
  const [{ path: found }] = findBrowsers(host).candidates;
  const { path, env } = found === undefined ? await embeddedBrowser(host) : { path: found, env: {} };
  const exports = Object.entries(env).map(([name, value]) => `export ${name}='${value}'`);
  const script = join(host.tmp, 'browser');
  writeFileSync(script, ['#!/bin/sh', ...exports, line, `exec '${path}' "$@"`].join('\n'));
  chmodSync(script, 0o700);
  return script;
}

/** A server that counts who connects. */
async function listening() {
  let connections = 0;
  const server = createServer((socket) => {
    connections += 1;
    socket.destroy();
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  return { at: `http://127.0.0.1:${port}`, connections: () => connections, stop: () => server.close() };
}

/** A page that asks a server for everything that a page can ask for. */
function asking(at: string, head = ''): string {
  const style = `<link rel="stylesheet" href="${at}/s.css"><style>@import url("${at}/i.css");
    @font-face{font-family:f;src:url("${at}/f.woff2")} body{font-family:f;background:url("${at}/b.png")}</style>`;
  const body = `<h1>Text</h1><img alt="" src="${at}/x.png"><iframe src="${at}/"></iframe><object data="${at}/o"></object>`;
  return pageOf(body, head + style);
}

/** The document's title, which Chromium writes as UTF-16 in hexadecimal when it is not plain ASCII. */
function titleOf(pdf: string): string {
  const hex = /\/Title <FEFF([0-9A-F]+)>\n\/Creator/.exec(pdf)?.[1] ?? '';
  return Buffer.from(hex, 'hex').swap16().toString('utf16le');
}

function pageMm(pdf: string): number[] {
  const [, width, height] = /\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf) ?? [];
  return [width, height].map((points) => Math.round((Number(points) / 72) * 25.4));
}
