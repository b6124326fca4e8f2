/**
 * How long the desk takes in a real browser, against the command line in the same run: `npm run bench:desk -- [ROWS…] [--gz]`,
 * 1, 5 and 29 million rows where none are named. The page is opened from its file with a log on disk, as a person does. Beside
 * the times stand the peak memory of the page's process (Linux), the longest task that kept the page from answering, from its opening until
 * the report had been read from top to end, and whether both wrote the same `report.json`.
 */
import { spawnSync } from 'node:child_process';
import { createReadStream, createWriteStream, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { parseArgs } from 'node:util';
import { createGzip } from 'node:zlib';
import { strFromU8, unzipSync } from 'fflate';
import puppeteer from 'puppeteer';
import { findBrowsers, thisHost } from '../../.build/report/pdf/browser-find.js';
import { makeSession } from './make-log.mjs';

const PROGRAM = fileURLToPath(new URL('../../.build/bin/standstill.js', import.meta.url));
const { values, positionals } = parseArgs({
  options: { gz: { type: 'boolean', default: false } },
  allowPositionals: true,
});
const sizes = positionals.length > 0 ? positionals.map(Number) : [1e6, 5e6, 29e6];
if (!sizes.every((n) => Number.isInteger(n) && n > 0)) throw new Error('Rows are whole numbers.');
const browserPath = findBrowsers(thisHost()).candidates.find(({ path }) => path)?.path;
if (!browserPath) throw new Error('No browser was found.');

const say = (text) => process.stdout.write(`${text}\n`);
say(`${cpus()[0].model.trim()}, ${availableParallelism()} cores, Node ${process.version}\n`);
say('| rows | log | command line | desk | desk : command line | peak, page | longest task | same report.json |');
say('| ---: | ---: | ---: | ---: | ---: | ---: | ---: | --- |');
for (const rows of sizes) say(await lineOf(rows));

async function lineOf(rows) {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-bench-desk-'));
  try {
    let bytes = makeSession(folder, rows);
    let log = join(folder, 'log.csv');
    if (values.gz) {
      await pipeline(createReadStream(log), createGzip({ level: 6 }), createWriteStream(`${log}.gz`));
      rmSync(log);
      log = `${log}.gz`;
      bytes = readFileSync(log).length;
      const manifest = join(folder, 'session.yaml');
      writeFileSync(manifest, readFileSync(manifest, 'utf8').replace('log.csv', 'log.csv.gz'));
    }
    const line = onCommandLine(folder);
    const desk = await inPage(folder, log);
    const cells = [
      `${rows / 1e6} million`,
      `${Math.round(bytes / 1e6)} MB`,
      `${line.s.toFixed(2)} s`,
      `${desk.s.toFixed(2)} s`,
      (desk.s / line.s).toFixed(2),
      desk.peakBytes === null ? '' : `${Math.round(desk.peakBytes / 1e6)} MB`,
      `${Math.round(desk.longestMs)} ms`,
      desk.report === line.report ? 'yes' : 'NO',
    ];
    return `| ${cells.join(' | ')} |`;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

function onCommandLine(folder) {
  const out = join(folder, 'out');
  // So that it is not written within the time: it is the same for every archive.
  spawnSync(process.execPath, [PROGRAM, 'desk', '--out', out]);
  const began = performance.now();
  const { status, stderr } = spawnSync(process.execPath, [PROGRAM, 'build', folder, '--out', out, '--no-pdf'], {
    encoding: 'utf8',
  });
  const s = (performance.now() - began) / 1000;
  if (status !== 0) throw new Error(stderr);
  return { s, report: readFileSync(join(out, 'sessions', 'benchmark', 'report.json'), 'utf8') };
}

/** As a person does it: files chosen, the button pressed, until the report is in view. */
async function inPage(folder, log) {
  const args = process.getuid?.() === 0 ? ['--no-sandbox'] : [];
  const browser = await puppeteer.launch({ executablePath: browserPath, args, protocolTimeout: 900_000 });
  try {
    const page = await browser.newPage();
    await page.setViewport({ width: 1280, height: 900 });
    await page.goto(pathToFileURL(join(folder, 'out', 'desk.html')).href);
    const input = await page.waitForSelector('#log');
    await page.evaluate(observe);
    await input.uploadFile(join(folder, 'session.yaml'), log);
    await page.waitForSelector('#start:not(:disabled)');
    const peak = watchPeak(browser);
    const began = performance.now();
    await page.click('#start');
    await page.waitForSelector('#kept', { timeout: 900_000 });
    const s = (performance.now() - began) / 1000;
    const frame = await (await page.$('iframe')).contentFrame();
    await frame.waitForFunction(() => globalThis.document.readyState === 'complete');
    await page.evaluate(wholeWay, 'iframe');
    const longestMs = await page.evaluate(() => Math.max(0, ...globalThis.tasksMs));
    const peakBytes = (await peak)();
    await page.click('#keep_zip');
    await page.waitForFunction(() => globalThis.zipped !== undefined);
    const zip = Buffer.from(await page.evaluate(() => globalThis.zipped), 'base64');
    const report = strFromU8(unzipSync(zip)['sessions/benchmark/report.json']);
    return { s, longestMs, peakBytes, report };
  } finally {
    await browser.close();
  }
}

/** In the page: every task of 50 ms and more, its opening among them, and what is given to keep. */
function observe() {
  globalThis.tasksMs = [];
  new PerformanceObserver((list) => {
    for (const { duration } of list.getEntries()) globalThis.tasksMs.push(duration);
  }).observe({ type: 'longtask', buffered: true });
  const addressOf = URL.createObjectURL;
  URL.createObjectURL = (blob) => {
    const reader = new globalThis.FileReader();
    reader.onload = () => {
      globalThis.zipped = reader.result.split(',')[1];
    };
    if (blob.type === 'application/zip') reader.readAsDataURL(blob);
    return addressOf.call(URL, blob);
  };
}

/** In the page: the report brought into view and read from its top to its end. */
async function wholeWay(selector) {
  const frame = globalThis.document.querySelector(selector);
  frame.scrollIntoView();
  const { scrollingElement } = frame.contentDocument;
  for (let at = 0; at < scrollingElement.scrollHeight; at += frame.clientHeight) {
    scrollingElement.scrollTop = at;
    await new Promise((resolve) => globalThis.requestAnimationFrame(() => setTimeout(resolve, 30)));
  }
}

/** Of the process that has the most: page and workers are in one. */
async function watchPeak(browser) {
  const client = await browser.target().createCDPSession();
  const { processInfo } = await client.send('SystemInfo.getProcessInfo');
  const pids = processInfo.filter(({ type }) => type === 'renderer').map(({ id }) => id);
  return () => {
    const peaks = pids.flatMap((pid) => {
      try {
        const [, kB] = /VmHWM:\s+(\d+)/.exec(readFileSync(`/proc/${pid}/status`, 'utf8')) ?? [];
        return kB ? [Number(kB) * 1024] : [];
      } catch {
        return [];
      }
    });
    return peaks.length > 0 ? Math.max(...peaks) : null;
  };
}
