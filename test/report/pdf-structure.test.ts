/**
 * The printed PDF against those conditions of the Matterhorn Protocol 1.1 (PDF Association; its numbers from memory) that
 * can be read from the file's objects: Chromium writes them uncompressed. Needs a browser; poppler and mupdf where present.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openPrinter } from '../../src/report/browser.ts';
import { findBrowsers, thisHost } from '../../src/report/browser-find.ts';
import { renderPage } from '../../src/report/page.ts';
import { attachFile } from '../../src/report/pdf-attach.ts';
import { sampleContent, sampleReport } from './sample.ts';

const browserPath = findBrowsers(thisHost()).candidates.find((one) => one.path !== undefined)?.path;
if (!browserPath) console.warn('No browser on this machine: the tests of printed pages are skipped.');

const chart = (name: string, check: string | null) => ({
  name,
  check,
  title: name,
  svg: `<svg role="img" aria-labelledby="${name}-t" width="720" height="90" viewBox="0 0 720 90"><title id="${name}-t">What ${name} shows</title><path d="M0 0L720 90" stroke="#000"/></svg>`,
});

/** Whether a program is there to run. */
function isHere(program: string): boolean {
  try {
    execFileSync(program, ['-v'], { stdio: 'ignore' });
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code !== 'ENOENT';
  }
}

describe.skipIf(!browserPath)('the printed report', () => {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-pdf-'));
  const file = join(folder, 'report.pdf');
  const report = sampleReport();
  let pdf: Buffer;
  let objects: string[];
  const ofType = (type: string) => objects.filter((body) => new RegExp(`/Type /${type}\\b`).test(body));
  const elements = (kind: string) => ofType('StructElem').filter((body) => new RegExp(`/S /${kind}\\b`).test(body));

  beforeAll(async () => {
    const charts = [
      chart('session-overview', null),
      chart('parked-draw', 'parked-draw'),
      chart('limit-parked-draw', 'parked-draw'),
    ];
    const html = renderPage(report, charts, { pageSize: 'a4', content: sampleContent() });
    const printer = await openPrinter({ browserPath });
    try {
      pdf = await printer.print({ name: 'sample', html, pageSize: 'a4', dateMs: 0 });
    } finally {
      await printer.close();
    }
    const data = Buffer.from(JSON.stringify(report));
    const attached = attachFile(pdf, {
      name: 'report.json',
      description: 'data',
      type: 'application/json',
      data,
      dateMs: 0,
    });
    expect(attached).not.toBeNull();
    pdf = attached as Buffer;
    writeFileSync(file, pdf);
    // An object written later stands in for the earlier one of its number.
    const found = new Map<string, string>();
    for (const [, number, body] of pdf.toString('latin1').matchAll(/^(\d+) 0 obj\n([\s\S]*?)\nendobj/gm))
      found.set(number, body);
    objects = [...found].sort(([a], [b]) => Number(a) - Number(b)).map(([, body]) => body);
  }, 90_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('is marked as tagged, with a language and a title that is shown (06, 07, 11)', () => {
    const [catalog] = ofType('Catalog');
    expect(catalog).toMatch(/\/Marked true/);
    expect(catalog).toMatch(/\/StructTreeRoot \d+ 0 R/);
    expect(catalog).toMatch(/\/Lang \(en\)/);
    expect(catalog).toMatch(/\/DisplayDocTitle true/);
    expect(objects.some((body) => /\/Title (\(|<)/.test(body) && /\/Producer/.test(body))).toBe(true);
    expect(catalog).toContain('/EmbeddedFiles');
  });

  it('uses standard kinds of element only (02)', () => {
    const standard =
      'Document Art Sect Div NonStruct Part P H1 H2 H3 H4 L LI Lbl LBody Table TR TH TD THead TBody TFoot Caption Figure Link Span Code Quote Note Form Em';
    const used = new Set(ofType('StructElem').map((body) => /\/S \/(\w+)/.exec(body)?.[1]));
    expect([...used].filter((kind) => !standard.split(' ').includes(kind ?? ''))).toEqual([]);
  });

  it('says of every figure what it shows (13)', () => {
    const figures = elements('Figure');
    expect(figures.length).toBeGreaterThan(3);
    expect(figures.filter((body) => !/\/Alt (\(.|<)/.test(body))).toEqual([]);
  });

  it('has a heading of the first level, and skips none (14)', () => {
    // Elements are numbered as they stand on the page.
    const levels = ofType('StructElem').flatMap((body) => {
      const level = /\/S \/H([1-6])\b/.exec(body)?.[1];
      return level ? [Number(level)] : [];
    });
    expect(levels.length).toBeGreaterThan(15);
    expect(levels[0]).toBe(1);
    const steps = levels.map((level, index) => level - (levels[index - 1] ?? 0));
    expect(Math.max(...steps)).toBe(1);
  });

  it('tells of every head of a table what it heads (15)', () => {
    const heads = elements('TH');
    expect(heads.length).toBeGreaterThan(30);
    expect(heads.filter((body) => !/\/Scope \/(Column|Row)/.test(body))).toEqual([]);
  });

  it('follows its structure from field to field on every page (28)', () => {
    const pages = ofType('Page').filter((body) => /\/StructParents/.test(body));
    expect(pages.length).toBeGreaterThan(3);
    expect(pages.filter((body) => !/\/Tabs \/S/.test(body))).toEqual([]);
  });

  it('carries every font in itself, and leads nowhere outside (31)', () => {
    const fonts = ofType('FontDescriptor');
    expect(fonts.length).toBeGreaterThan(1);
    expect(fonts.filter((body) => !/\/FontFile[23]? \d+ 0 R/.test(body))).toEqual([]);
    expect(objects.filter((body) => /\/S \/(URI|Launch|JavaScript|SubmitForm|GoToR)\b/.test(body))).toEqual([]);
  });

  it.skipIf(!isHere('pdfinfo'))('is read by poppler without a complaint, its data too', () => {
    const run = (program: string, ...words: string[]) =>
      execFileSync(program, words, { encoding: 'utf8', stdio: 'pipe' });
    expect(run('pdfinfo', file)).toMatch(/Tagged:\s+yes/);
    expect(run('pdftotext', file, '-').replaceAll('\u00a0', ' ')).toContain('83 mA ± 2 mA');
    run('pdfdetach', '-save', '1', '-o', join(folder, 'out.json'), file);
    expect(run('pdfdetach', '-list', file)).toContain('report.json');
  });

  it.skipIf(!isHere('mutool'))('is read by mupdf', () => {
    const text = execFileSync('mutool', ['draw', '-q', '-F', 'text', file], { encoding: 'utf8', stdio: 'pipe' });
    expect(text).toContain('83');
    expect(text).not.toContain('\ufffd');
  });
});
