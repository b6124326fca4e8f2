/** An archive of 2,000 sessions from a file share, in a real browser without a network; and without scripts. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import puppeteer, { type Browser, type Page } from 'puppeteer';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { writeArchiveIndex } from '../../src/archive/index-page.ts';
import { browserPath } from '../report/browser-here.ts';
import { changed, stored, withFinding } from './reports.ts';

const SESSIONS = 2000;
/** Bytes. */
const BUDGET = 1_500_000;

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const out = mkdtempSync(join(tmpdir(), 'standstill-archive #1 '));
const index = join(out, 'index.html');

beforeAll(async () => {
  const sound = stored('sound', '2026-01-01T00:00:00.000Z');
  const fault = withFinding(sound, 'parked-draw', 'fault', { value: 0.08, unit: 'A', uncertainty: 0.003 });
  for (let k = 0; k < SESSIONS; k++) {
    const report = changed(k % 10 === 0 ? fault : sound, (own) => {
      own.session.id = `session-${k}`;
      own.session.title = `Flat after a weekend ${k}`;
      own.session.repair_order = `HL-${k}`;
      own.session.technician = k % 2 ? 'Zoë Keane' : 'D. Okafor';
      // A page a vehicle for the newest hundred; the others are redacted.
      own.session.vehicle.registration = k >= SESSIONS - 100 ? `M-FL${k}` : null;
      own.session.concern = `Creaks and starts slowly, ${k}`;
      own.session.timezone = 'UTC';
      own.log.start = new Date(Date.UTC(2026, 0, 1) + k * 3_600_000).toISOString();
    });
    mkdirSync(join(out, 'sessions', `session-${k}`), { recursive: true });
    writeFileSync(join(out, 'sessions', `session-${k}`, 'report.json'), JSON.stringify(report));
  }
  expect((await writeArchiveIndex(out)).sessions).toBe(SESSIONS);
});
afterAll(() => rmSync(out, { recursive: true, force: true }));

describe('an archive of 2,000 sessions', () => {
  it('keeps its page within the budget', () => {
    expect(statSync(index).size).toBeLessThan(BUDGET);
  });
});

describe.skipIf(!browserPath)('its page in a browser', () => {
  let browser: Browser;
  let page: Page;
  beforeAll(async () => {
    const args = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
    browser = await puppeteer.launch({ executablePath: browserPath, args });
    page = await browser.newPage();
    await page.setOfflineMode(true);
    page.on('pageerror', (error) => faults.push(String(error)));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    await page.goto(pathToFileURL(index).href);
  });
  afterAll(() => browser?.close());
  const faults: string[] = [];

  it('is styled, and its policy lets nothing in from elsewhere', async () => {
    expect(await page.evaluate('getComputedStyle(document.body).fontFamily')).toContain('Inter');
    const policy = await page.$eval('meta[http-equiv="Content-Security-Policy"]', (meta) =>
      meta.getAttribute('content'),
    );
    expect(policy).toContain("default-src 'none'");
    expect(policy).not.toContain("script-src 'unsafe-inline'");
  });

  const shown = () =>
    page.$$eval('#sessions tbody tr', (rows) => rows.map((row) => row.querySelector('a')?.textContent));
  const told = () => page.$eval('#told', (line) => line.textContent);
  const reset = () => page.click('#reset');
  const ask = async (words: string) => {
    await reset();
    await page.type('#tools input[name=q]', words);
    return shown();
  };

  it('opens with the newest fifty, and shows more when asked', async () => {
    expect(await told()).toBe('2000 of 2000 sessions found, 50 shown');
    expect((await shown()).slice(0, 2)).toEqual(['Flat after a weekend 1999', 'Flat after a weekend 1998']);
    await page.click('#more');
    expect(await told()).toBe('2000 of 2000 sessions found, 100 shown');
    expect((await shown())[99]).toBe('Flat after a weekend 1900');
  });

  it('draws each row as the page without scripts has it', async () => {
    const first = () => page.$eval('#sessions tbody tr', (row) => row.outerHTML.replaceAll(/\s*\n\s*/g, ''));
    await page.reload();
    const written = await first();
    await page.click('#more');
    expect(await first()).toBe(written);
  });

  it.each([
    ['zoe hl-1357', 'Flat after a weekend 1357'],
    ['mfl 1903', 'Flat after a weekend 1903'],
    ['m-fl1903', 'Flat after a weekend 1903'],
    ['HL 77', 'Flat after a weekend 77'],
    ['creaks 1357', 'Flat after a weekend 1357'],
    ['2026-01-02 hl24', 'Flat after a weekend 24'],
    ['session-3', 'Flat after a weekend 3'],
  ])('finds by what people write, the exact hit first: %s', async (words, title) => {
    expect((await ask(words))[0]).toBe(title);
  });

  it.each([
    ['2026-02', 28 * 24],
    ['2/2026', 28 * 24],
    ['02.2026', 28 * 24],
    ['14.02.2026', 24],
    ['2026-02-14', 24],
    ['nowhere', 0],
  ])('knows dates as people write them: %s', async (words, count) => {
    await ask(words);
    expect(await told()).toContain(`${count} of 2000 sessions found`);
  });

  it('keeps what was asked for in the address', async () => {
    await ask('okafor');
    await page.select('#tools select[name=checks]', 'parked-draw');
    await page.$eval('#tools input[name=from]', (field) => {
      (field as unknown as { value: string }).value = '2026-02-01';
      field.dispatchEvent(new Event('input', { bubbles: true }));
    });
    const [answer, address] = [await told(), page.url()];
    expect(answer).toContain('125 of 2000');
    const other = await browser.newPage();
    await other.goto(address);
    expect(await other.$eval('#told', (line) => line.textContent)).toBe(answer);
    expect(await other.$eval('#tools input[name=q]', (field) => (field as unknown as { value: string }).value)).toBe(
      'okafor',
    );
    await other.close();
    await reset();
    expect(new URL(page.url()).hash).toBe('');
  });

  it('answers a search at once', async () => {
    const ms = await page.evaluate(`(() => {
      const field = document.querySelector('#tools input');
      const began = performance.now();
      field.value = 'okafor';
      field.dispatchEvent(new Event('input', { bubbles: true }));
      document.body.getBoundingClientRect();
      return performance.now() - began;
    })()`);
    expect(await told()).toBe('1000 of 2000 sessions found, 50 shown');
    // A fifth of a second is felt as at once; five times as much for a busy machine.
    expect(ms).toBeLessThan(1000);
    await reset();
  });

  it('filters by finding, and sorts by a column with the keyboard', async () => {
    await page.select('#tools select[name=checks]', 'parked-draw');
    expect(await told()).toBe('200 of 2000 sessions found, 50 shown');
    await page.focus('#sessions thead th:nth-child(4) button');
    await page.keyboard.press('Enter');
    expect((await shown()).slice(0, 3)).toEqual([0, 10, 20].map((k) => `Flat after a weekend ${k}`));
    await page.keyboard.press('Enter');
    expect((await shown())[0]).toBe('Flat after a weekend 1990');
    expect(await page.$eval('#sessions th[aria-sort]', (head) => head.getAttribute('aria-sort'))).toBe('descending');
    await reset();
  });

  it('links to a page of the vehicle, which links to the report and back', async () => {
    const link = String(await page.evaluate(`document.querySelector('#sessions tbody td a').href`));
    const other = await browser.newPage();
    await other.goto(link);
    const links = await other.$$eval('main a', (all) => all.map((one) => one.getAttribute('href')));
    expect(links.slice(0, 2)).toEqual(['../../index.html', '../../fleet.html']);
    expect(links[2]).toMatch(/^\.\.\/\.\.\/sessions\/session-\d+\/index\.html$/);
    await other.close();
  });

  it.each(['index.html', 'fleet.html', 'months/2026-02.html'])(
    '%s fits a telephone and has no axe violation',
    async (name) => {
      const other = await browser.newPage();
      // The page's own policy lets no other script in.
      await other.setBypassCSP(true);
      await other.setViewport({ width: 360, height: 800 });
      await other.goto(pathToFileURL(join(out, name)).href);
      expect(await other.evaluate('document.documentElement.scrollWidth')).toBe(360);
      await other.evaluate(axeSource);
      const found = await other.evaluate(
        'axe.run().then((all) => all.violations.map((one) => one.id + one.nodes[0].html))',
      );
      expect(found).toEqual([]);
      await other.close();
    },
  );

  it('is whole without scripts, page by page, and offers no tool that would not work', async () => {
    const bare = await browser.newPage();
    await bare.setJavaScriptEnabled(false);
    await bare.goto(pathToFileURL(index).href);
    expect(await bare.$$eval('#sessions tbody tr', (rows) => rows.length)).toBe(50);
    expect(await bare.$eval('#tools', (tools) => tools.checkVisibility())).toBe(false);
    expect(await bare.$eval('#more', (button) => button.checkVisibility())).toBe(false);
    expect(await bare.$$('#sessions thead button')).toEqual([]);
    const links = await bare.$$eval('.months a', (all) => all.map((one) => (one as unknown as { href: string }).href));
    const found = new Set<string>();
    for (const link of links) {
      await bare.goto(link);
      for (const href of await bare.$$eval('#sessions th a', (all) => all.map((one) => one.getAttribute('href') ?? '')))
        found.add(href);
    }
    expect(found.size).toBe(SESSIONS);
    await bare.close();
  });

  it('asked for nothing that its policy forbids', () => {
    expect(faults).toEqual([]);
  });
});
