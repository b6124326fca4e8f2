/**
 * The printed PDF in readers other than the browser that made it: pdf.js, and poppler and mupdf where they are installed.
 * A page must look alike in all of them: a glyph that one of them lacks would leave a hole.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createCanvas } from '@napi-rs/canvas';
import { getDocument, type PDFDocumentProxy, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { browserPath, isHere } from './browser-here.ts';
import { printSample } from './printed.ts';

const DPI = 96;
/** Side of the squares of which the ink is compared, px: about a letter and a half. */
const SQUARE = 12;
/** Share of a square that may differ. Readers smooth edges in their own ways; the smallest letters of a page fill twice this. */
const MOST_DIFFERENCE = 0.1;

interface Page {
  readonly width: number;
  readonly height: number;
  /** 0 black to 255 white. */
  readonly grey: Uint8Array;
}

/** Greymap, as `pdftoppm -gray` and `mutool draw -F pgm` write it. */
function readGreymap(bytes: Buffer): Page {
  const head = /^P5\s+(?:#[^\n]*\n)?(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 80).toString('latin1'));
  if (!head) throw new Error('no greymap');
  return { width: Number(head[1]), height: Number(head[2]), grey: bytes.subarray(head[0].length) };
}

const OTHERS: Readonly<Record<string, (file: string, page: number) => Page>> = {
  pdftoppm: (file, page) =>
    readGreymap(run('pdftoppm', '-r', `${DPI}`, '-gray', '-f', `${page}`, '-l', `${page}`, file)),
  mutool: (file, page) =>
    readGreymap(run('mutool', 'draw', '-q', '-r', `${DPI}`, '-c', 'gray', '-F', 'pgm', '-o', '-', file, `${page}`)),
};

function run(program: string, ...words: string[]): Buffer {
  return execFileSync(program, words, { stdio: ['ignore', 'pipe', 'ignore'], maxBuffer: 1 << 26 });
}

async function byPdfJs(pdf: PDFDocumentProxy, number: number): Promise<Page> {
  const page = await pdf.getPage(number);
  const viewport = page.getViewport({ scale: DPI / 72 });
  const [width, height] = [Math.round(viewport.width), Math.round(viewport.height)];
  const canvas = createCanvas(width, height);
  const context = canvas.getContext('2d');
  await page.render({ canvas: canvas as never, canvasContext: context as never, viewport }).promise;
  const { data } = context.getImageData(0, 0, width, height);
  const grey = new Uint8Array(width * height);
  for (let k = 0; k < grey.length; k++) {
    grey[k] = Math.round(0.299 * data[4 * k] + 0.587 * data[4 * k + 1] + 0.114 * data[4 * k + 2]);
  }
  return { width, height, grey };
}

/** Ink of each square, 0 to 1; pages may differ by a pixel in size. */
function inkOf({ width, grey }: Page, across: number, down: number): Float64Array {
  const ink = new Float64Array(across * down);
  for (let y = 0; y < down * SQUARE; y++) {
    for (let x = 0; x < across * SQUARE; x++) {
      const square = Math.floor(y / SQUARE) * across + Math.floor(x / SQUARE);
      ink[square] += (255 - grey[y * width + x]) / 255 / SQUARE ** 2;
    }
  }
  return ink;
}

function mostDifference(a: Page, b: Page): number {
  const across = Math.floor(Math.min(a.width, b.width) / SQUARE);
  const down = Math.floor(Math.min(a.height, b.height) / SQUARE);
  const [inkA, inkB] = [inkOf(a, across, down), inkOf(b, across, down)];
  return inkA.reduce((most, ink, k) => Math.max(most, Math.abs(ink - inkB[k])), 0);
}

/** Words of letters, as a reader would search for them. */
const wordsOf = (text: string) => text.normalize('NFKC').match(/[\p{Lu}\p{Ll}]{2,}/gu) ?? [];

describe.skipIf(!browserPath)('the printed report in other readers', () => {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-readers-'));
  const file = join(folder, 'report.pdf');
  let html: string;
  let pdf: PDFDocumentProxy;

  beforeAll(async () => {
    const printed = await printSample();
    html = printed.html;
    writeFileSync(file, printed.pdf);
    const data = new Uint8Array(printed.pdf);
    pdf = await getDocument({ data, useSystemFonts: false, verbosity: VerbosityLevel.ERRORS }).promise;
  }, 90_000);
  afterAll(async () => {
    await pdf?.destroy();
    rmSync(folder, { recursive: true, force: true });
  });

  it('gives pdf.js the words of the page, and nothing else', async () => {
    const there = new Set(wordsOf(html.replaceAll(/<(style|script)[\s\S]*?<\/\1>/g, ' ').replaceAll(/<[^>]+>/g, ' ')));
    const found: string[] = [];
    for (let number = 1; number <= pdf.numPages; number++) {
      const { items } = await (await pdf.getPage(number)).getTextContent();
      found.push(...wordsOf(items.map((item) => ('str' in item ? item.str + (item.hasEOL ? ' ' : '') : '')).join('')));
    }
    expect(found.length).toBeGreaterThan(500);
    expect(found.filter((word) => !there.has(word) && word !== 'Page')).toEqual([]);
  });

  it.each(Object.keys(OTHERS))('looks alike in pdf.js and %s', async (program) => {
    if (!isHere(program)) return console.warn(`${program} is not installed: not compared.`);
    for (let number = 1; number <= pdf.numPages; number++) {
      const [ours, theirs] = [await byPdfJs(pdf, number), OTHERS[program](file, number)];
      const difference = mostDifference(ours, theirs);
      expect(difference, `page ${number}`).toBeLessThan(MOST_DIFFERENCE);
      // A hole of the size of a letter, where there is most ink, would not pass.
      if (number === 1) expect(mostDifference(ours, withoutLetter(theirs))).toBeGreaterThan(MOST_DIFFERENCE);
    }
  });
});

/** The page with a letter of its first heading painted over. */
function withoutLetter({ width, height, grey }: Page): Page {
  const holed = Uint8Array.from(grey);
  const across = Math.floor(width / SQUARE);
  const ink = inkOf({ width, height, grey }, across, Math.floor(height / SQUARE));
  const from = ink.indexOf(ink.reduce((most, one) => Math.max(most, one)));
  const [x0, y0] = [(from % across) * SQUARE, Math.floor(from / across) * SQUARE];
  for (let y = y0; y < y0 + 9; y++) holed.fill(255, y * width + x0, y * width + x0 + 6);
  return { width, height, grey: holed };
}
