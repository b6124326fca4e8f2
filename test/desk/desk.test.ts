/**
 * The desk in a real browser, from a file's address and with the network refused: it writes what the command line writes, byte
 * by byte, and a person gets from a log to a report with nothing but the page.
 */
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import puppeteer, { type Browser, type Page } from 'puppeteer-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { deskPage } from '../../src/cli/desk-page.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { readSession, resolveLogFiles } from '../../src/manifest/read-session.ts';
import { makeReport } from '../../src/node/make-report.ts';
import { VERSION } from '../../src/node/version.ts';
import { reportFiles } from '../../src/report/report-files.ts';
import { smallSession } from '../cases/small-sessions.ts';
import { disk } from '../demo/disk.ts';
import { browserPath } from '../report/browser-here.ts';

/** As a script in the page calls it. */
declare const standstill: {
  build(files: unknown): Promise<readonly { path: string; blob: { text(): Promise<string> } }[]>;
};
// biome-ignore lint/suspicious/noExplicitAny: what stands in functions below is read by the browser.
declare const document: any;

describe.skipIf(!browserPath)('the desk', { timeout: 300_000 }, () => {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-desk-'));
  const session = join(folder, 'van');
  let browser: Browser;
  let page: Page;
  const asked: string[] = [];
  const faults: string[] = [];

  beforeAll(async () => {
    await writeSession(session, smallSession('plain'), disk);
    writeFileSync(
      join(folder, 'desk.html'),
      deskPage({ version: VERSION, shop: null, keys: { tool: 'tool', face: 'face' } }),
    );
    browser = await puppeteer.launch({
      executablePath: browserPath,
      args: process.getuid?.() === 0 ? ['--no-sandbox'] : [],
      protocolTimeout: 280_000,
    });
    page = await browser.newPage();
    await page.setOfflineMode(true);
    page.on('request', (request) => asked.push(request.url()));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    page.on('pageerror', (error) => faults.push(String(error)));
    await page.goto(pathToFileURL(join(folder, 'desk.html')).href);
  }, 300_000);
  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const choose = async (id: string, path: string) => {
    await (await page.$(`input#${id}`))?.uploadFile(path);
    // Of a folder the browser finds the files in its own time.
    await page.waitForFunction((one) => document.getElementById(one).files.length > 0, {}, id);
  };

  it('writes what the command line writes, to the byte', async () => {
    const read = readSession(session, nodeFiles);
    const language = 'en';
    const made = await makeReport({ ...read, language }, { pageSize: 'a4', language, version: VERSION });
    const expected = [...reportFiles(made)].map(([path, text]) => [`sessions/${read.id}/${path}`, text]);

    await choose('folder', session);
    const built = await page.evaluate(async () => {
      const files = await standstill.build([...document.querySelector('#folder').files]);
      return Promise.all(files.map(async ({ path, blob }) => [path, await blob.text()] as const));
    });
    const found = new Map(built);
    for (const [path, text] of expected) expect(found.get(path) === text, path).toBe(true);
    expect([...found.keys()]).toEqual(expect.arrayContaining(['index.html', 'checks.html', 'archive.css']));
  });

  it('refuses with the messages of check', async () => {
    const said = await page.evaluate(async () => {
      try {
        await standstill.build([new File(['standstill: 1\nvehicel: {}\n'], 'session.yaml')]);
        return 'built';
      } catch (error) {
        return String(error);
      }
    });
    expect(said).toContain('UserError: session.yaml:1:1 session: Missing.');
    expect(said).toContain('session.yaml:2:1 vehicel:');
  });

  it('brings a person from the log to the report', async () => {
    await page.reload();
    const [log] = resolveLogFiles(readSession(session, nodeFiles), nodeFiles);
    await choose('log', join(session, log));
    await page.waitForSelector('#understood', { visible: true });
    expect(await page.$eval('#start', (start) => start.matches(':disabled'))).toBe(true);
    const type = async (field: string, text: string) => {
      await page.type(`#field-${field}`, text);
      await page.keyboard.press('Tab');
    };
    await type('session-title', 'Flat after a weekend <b>');
    await page.select('#field-session-purpose', 'complaint');
    await type('vehicle-description', 'Panel van');
    await page.select('#field-vehicle-powertrain', 'combustion');
    await page.select('#field-battery-chemistry', 'flooded');
    if (await page.$('#field-current-positive')) await page.select('#field-current-positive', 'charging');
    const open = await page.$$eval('.message', (messages) => messages.flatMap(({ textContent }) => textContent || []));
    expect(open).toEqual([]);
    await page.waitForSelector('#start:not(:disabled)');
    await page.focus('#start');
    await page.keyboard.press('Enter');
    const frame = await (await page.waitForSelector('iframe', { timeout: 200_000 }))?.contentFrame();
    await frame?.waitForSelector('h1');
    expect(await frame?.$eval('html', (html) => html.textContent)).toContain('Flat after a weekend <b>');
  });

  it('asks the network for nothing, and its policy is kept', () => {
    expect(asked.filter((address) => !/^(file|blob|data):|^about:srcdoc$/.test(address))).toEqual([]);
    expect(faults).toEqual([]);
  });
});
