/** The page in a real browser: axe-core, narrow screens, and that it asks for nothing but itself. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';
import puppeteer, { type Browser, type Page } from 'puppeteer-core';
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
    const series = { voltage: volts, current: null, temperature: null };
    const charts = [
      { name: 'session-overview', check: null, title: 'The whole log', svg: svg.replaceAll('c-t', 'o-t') },
      { name: 'parked-draw', check: 'parked-draw', title: 'Draw', svg },
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

  it('reads values and zooms by keyboard, and can be driven without a mouse', async () => {
    await open(1300, 'light');
    const saw = () => page.$eval('#explore-plot', (plot) => plot.getAttribute('aria-valuetext') ?? '');
    await page.focus('#explore-plot');
    const first = await saw();
    expect(first).toContain('Voltage 12.20\u00a0V (12.10\u00a0V … 12.50\u00a0V)');
    for (const key of ['ArrowRight', 'ArrowRight', '+', '+'] as const) await page.keyboard.press(key);
    expect(await saw()).not.toBe(first);
    const ticks = await page.$$eval('#explore-plot text', (texts) => texts.map((text) => text.textContent));
    await page.keyboard.press('0');
    const whole = await page.$$eval('#explore-plot text', (texts) => texts.map((text) => text.textContent));
    expect(whole).not.toEqual(ticks);
  });

  it('tells the values under the pointer on the picture of the whole log', async () => {
    await open(1300, 'light');
    const picture = await page.$('#figure-session-overview svg');
    await picture?.scrollIntoView();
    const box = await picture?.boundingBox();
    const said = () => page.$eval('#overview-reading', (words) => words.textContent ?? '');
    const y = (box?.y ?? 0) + 20;
    // 76 px of 720 lie left of the plot: before it is the log's start, its right end the log's.
    await page.mouse.move(box?.x ?? 0, y);
    const first = await said();
    expect(first).toContain('Voltage 12.20\u00a0V');
    await page.mouse.move((box?.x ?? 0) + (box?.width ?? 0) - 1, y);
    expect(await said()).toContain('Voltage 12.25\u00a0V');
    await page.mouse.move(0, 0);
    expect(await said()).toBe('');
  });

  it('leads the keyboard past the contents to the report', async () => {
    await open(1300, 'light');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate('document.activeElement.id')).toBe('report');
  });
});
