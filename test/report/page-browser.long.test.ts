/** The page in a real browser: axe-core, narrow screens, and that it asks for nothing but itself. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import puppeteer, { type Browser, type Page } from 'puppeteer';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { browserPath } from './browser-here.ts';
import { renderPage } from './render-page.ts';
import { sampleContent, sampleReport } from './sample.ts';

const axeSource = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

describe.skipIf(!browserPath)('the page in a browser', () => {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-page-'));
  const file = join(folder, 'a report #1.html');
  let browser: Browser;
  let page: Page;
  const asked: string[] = [];

  beforeAll(async () => {
    const report = sampleReport();
    const wakes = Array.from({ length: 60 }, () => report.wakes[0]);
    const svg =
      '<svg role="img" aria-labelledby="c-t" width="720" height="90" viewBox="0 0 720 90"><title id="c-t">Draw</title><path d="M0 0L720 90" stroke="#000"/></svg>';
    const hours = Array.from({ length: 48 }, (_, hour) => hour);
    const of = (value: (hour: number) => number) => hours.map(value);
    const t = of((hour) => hour * 3600);
    const volts = { t, lo: of(() => 12.1), hi: of(() => 12.5), y: of((hour) => 12.2 + hour / 1000) };
    const amps = { t, lo: of(() => 0.5), hi: of(() => 0.5), y: of(() => 0.5) };
    const sums = { ah: of((hour) => hour / 2), wh: of((hour) => hour * 6), s: t };
    const series = { voltage: volts, current: amps, temperature: null, sums };
    const charts = [
      { name: 'session-overview', check: null, title: 'The whole log', svg: svg.replaceAll('c-t', 'o-t') },
      { name: 'parked-draw', check: 'parked-draw', title: 'Draw', svg },
      { name: 'crank-voltage', check: 'crank-voltage', title: 'Starts', svg: svg.replaceAll('c-t', 'p-t') },
    ];
    writeFileSync(file, renderPage({ ...report, wakes }, charts, { pageSize: 'a4', content: sampleContent(), series }));
    browser = await puppeteer.launch({
      executablePath: browserPath,
      args: process.getuid?.() === 0 ? ['--no-sandbox'] : [],
    });
    page = await browser.newPage();
    page.on('request', (request) => asked.push(request.url()));
  });
  afterAll(async () => {
    await browser?.close();
    rmSync(folder, { recursive: true, force: true });
  });

  const open = async (width: number, scheme: 'light' | 'dark') => {
    await page.setViewport({ width, height: 800 });
    await page.emulateMediaFeatures([{ name: 'prefers-color-scheme', value: scheme }]);
    await page.goto(pathToFileURL(file).href);
  };

  it.each([
    [1300, 'light'],
    [1300, 'dark'],
    [360, 'light'],
  ] as const)('has no axe violation at %i px, %s', async (width, scheme) => {
    await open(width, scheme);
    await page.evaluate(axeSource);
    const violations = await page.evaluate(
      'axe.run().then((found) => found.violations.map((one) => one.id + ": " + one.nodes.map((node) => node.html).join(" | ")))',
    );
    expect(violations).toEqual([]);
  });

  it('is no wider than a phone: wide tables scroll within themselves', async () => {
    await open(360, 'light');
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(360);
    await page.evaluate('for (const one of document.querySelectorAll("details")) one.open = true');
    expect(await page.evaluate('document.querySelectorAll(".brief svg[width]").length')).toBeGreaterThan(0);
    expect(await page.evaluate('document.documentElement.scrollWidth')).toBe(360);
  });

  it('asks for nothing but itself', async () => {
    asked.length = 0;
    await open(1300, 'light');
    await page.evaluate('document.fonts.ready.then(() => undefined)');
    expect(asked.filter((address) => !address.startsWith('data:'))).toEqual([pathToFileURL(file).href]);
    expect(await page.evaluate('document.fonts.check("600 12px Inter", "mΩ")')).toBe(true);
  });

  it('has a glyph in its own font for every sign of our prose and labels, so that no machine falls back on another', async () => {
    const folderOfProse = fileURLToPath(new URL('../../content/en', import.meta.url));
    const prose = readdirSync(folderOfProse, { recursive: true, encoding: 'utf8' })
      .filter((name) => /^[^\\/]+\.(md|yaml)$/.test(name))
      .map((name) => readFileSync(join(folderOfProse, name), 'utf8'));
    const signs = [...new Set([...prose.join(''), ...'−±×·–—…’“”°ΩµÄäß\u00a0\u202f'])].filter(
      (sign) => sign.trim() || sign > '~',
    );
    await open(1300, 'light');
    const lacking: string[] = [];
    const devtools = await page.createCDPSession();
    await devtools.send('DOM.enable');
    await devtools.send('CSS.enable');
    for (const weight of [400, 600, 700]) {
      const items = signs.map((sign) => `<p style="font-weight: ${weight}">&#${sign.codePointAt(0)};</p>`).join('');
      await page.evaluate(
        `document.body.innerHTML = ${JSON.stringify(items)}; Promise.all([...document.fonts].map((font) => font.load())).then(() => undefined)`,
      );
      const { root } = await devtools.send('DOM.getDocument', {});
      const { nodeIds } = await devtools.send('DOM.querySelectorAll', { nodeId: root.nodeId, selector: 'p' });
      for (const [index, nodeId] of nodeIds.entries()) {
        const { fonts } = await devtools.send('CSS.getPlatformFontsForNode', { nodeId });
        if (fonts.some((font) => !font.isCustomFont))
          lacking.push(`${weight} ${signs[index]}: ${fonts.map((font) => font.familyName)}`);
      }
    }
    expect(lacking).toEqual([]);
  });

  it('measures between two cursors by keyboard, and can be driven without a mouse', async () => {
    await open(1300, 'light');
    const saw = () => page.$eval('#explore-a', (cursor) => cursor.getAttribute('aria-valuetext') ?? '');
    const said = (key: string) => page.$eval(`#explore-${key}`, (value) => value.textContent ?? '');
    const ticks = () => page.$$eval('#explore-picture text', (texts) => texts.map((text) => text.textContent));
    await page.focus('#explore-a');
    const first = await saw();
    expect(first).toContain('Voltage 12.20\u00a0V (12.10\u00a0V … 12.50\u00a0V)');
    // 48 h of 0.5 A into the battery at some 12 V.
    expect(await said('charge')).toBe('+23.50\u00a0Ah');
    expect(await said('mean')).toBe('500\u00a0mA');
    const whole = await ticks();
    for (const key of ['ArrowRight', 'ArrowRight', '+', '+'] as const) await page.keyboard.press(key);
    expect(await saw()).not.toBe(first);
    expect(await ticks()).not.toEqual(whole);
    await page.keyboard.press('0');
    expect(await ticks()).toEqual(whole);
  });

  it('tells the values under the pointer, and measures what it is drawn across', async () => {
    await open(1300, 'light');
    const picture = await page.$('#explore-picture svg');
    await picture?.scrollIntoView();
    const box = (await picture?.boundingBox()) ?? { x: 0, y: 0, width: 0 };
    const said = (name: string) => page.$eval(`#explore-${name}`, (words) => words.textContent ?? '');
    const y = box.y + 40;
    await page.mouse.move(box.x, y);
    expect(await said('reading')).toContain('Voltage 12.20\u00a0V');
    await page.mouse.move(box.x + box.width - 1, y);
    expect(await said('reading')).toContain('Voltage 12.25\u00a0V');
    await page.mouse.down();
    await page.mouse.move(box.x + box.width / 2, y, { steps: 4 });
    await page.mouse.up();
    // Half of 50 h and the margins beside the plot.
    expect(await said('time')).toMatch(/^1 day/);
    expect(await said('charge')).toMatch(/^\+1[0-9]\.\d\d\u00a0Ah$/);
  });

  it('leads from a wake to its place and back, and shows one picture of the log', async () => {
    await open(1300, 'light');
    expect(await page.$eval('#figure-session-overview .plate', (plate) => plate.checkVisibility())).toBe(false);
    const row = '#table-wakes';
    await page.$eval(row, (caption) => caption.closest('table')?.querySelector('button')?.click());
    expect(await page.evaluate('document.activeElement.id')).toBe('explore-a');
    await page.click('#explore-back');
    expect(await page.evaluate('document.activeElement.className')).toBe('go');
  });

  it('shows a dozen rows of a long table until more are asked for', async () => {
    await open(1300, 'light');
    const seen = () =>
      page.$eval('#table-wakes', (caption) => {
        const rows = [...(caption.closest('table')?.querySelectorAll('tbody tr') ?? [])];
        return rows.filter((one) => one.checkVisibility()).length;
      });
    expect(await seen()).toBe(12);
    await page.$eval('#table-wakes', (caption) => caption.closest('.long')?.querySelector('summary')?.click());
    expect(await seen()).toBe(50);
  });

  it('folds what stands behind the answer on a phone, and opens it for whoever is led there', async () => {
    await open(360, 'light');
    const seen = () => page.$eval('#table-wakes', (caption) => caption.checkVisibility());
    expect(await seen()).toBe(false);
    await page.$eval('nav a[href="#events"]', (link) => (link as unknown as { click(): void }).click());
    await page.waitForFunction('document.querySelector("#table-wakes").checkVisibility()');
  });

  it('leads the keyboard past the contents to the report', async () => {
    await open(1300, 'light');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate('document.activeElement.id')).toBe('report');
  });
});
