/**
 * The printed PDF against those conditions of the Matterhorn Protocol 1.1 (PDF Association; its numbers from memory) that
 * can be read from the file's objects: Chromium writes them uncompressed. Needs a browser; poppler and mupdf where present.
 */
import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { inflateSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { attachFile } from '../../src/report/pdf/pdf-attach.ts';
import { readPdf, textOf } from '../../src/report/pdf/pdf-objects.ts';
import { browserPath, isHere } from './browser-here.ts';
import { printSample } from './printed.ts';
import { sampleReport } from './sample.ts';

describe.skipIf(!browserPath)('the printed report', () => {
  const folder = mkdtempSync(join(tmpdir(), 'standstill-pdf-'));
  const file = join(folder, 'report.pdf');
  const report = sampleReport();
  let pdf: Buffer;
  let bodies: Map<number, string>;
  let objects: string[];
  const at = (reference: string) => bodies.get(Number.parseInt(reference, 10)) ?? '';
  const kindOf = (body: string) => /\/S \/(\w+)/.exec(body)?.[1] ?? '';
  /** What an element holds: kinds of its elements, and `content` for marks of its own. */
  const kidsOf = (body: string) => {
    const kids = /\/K (\[[^\]]*\]|\d+ 0 R|\d+)/.exec(body)?.[1].match(/\d+ 0 R|<<[\s\S]*?>>|\d+/g) ?? [];
    return kids.map((kid) => (/ 0 R$/.test(kid) ? kindOf(at(kid)) : 'content'));
  };
  /** Each of `kinds` that holds, or stands in, something else than it may. */
  const misplaced = (kinds: string, holds: string, within: string) =>
    elements(`(?:${kinds})`).flatMap((body) => {
      const parent = kindOf(at(/\/P (\d+ 0 R)/.exec(body)?.[1] ?? ''));
      const wrong = kidsOf(body).filter((kid) => !holds.split(' ').includes(kid));
      return within.split(' ').includes(parent) ? wrong : [...wrong, `${kindOf(body)} in ${parent}`];
    });
  const ofType = (type: string) => objects.filter((body) => new RegExp(`/Type /${type}\\b`).test(body));
  const elements = (kind: string) => ofType('StructElem').filter((body) => new RegExp(`/S /${kind}\\b`).test(body));

  beforeAll(async () => {
    ({ pdf } = await printSample());
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
    bodies = readPdf(pdf)?.bodies ?? new Map();
    objects = [...bodies.values()];
  }, 90_000);
  afterAll(() => rmSync(folder, { recursive: true, force: true }));

  it('describes itself in XMP: title, language, and that it is meant to be accessible (06-001 to 06-003)', () => {
    const [catalog] = ofType('Catalog');
    const metadata = at(/\/Metadata (\d+ 0 R)/.exec(catalog)?.[1] ?? '');
    expect(metadata).toMatch(/^<<\/Type \/Metadata \/Subtype \/XML \/Length \d+>> stream\n/);
    const xmp = Buffer.from(metadata, 'latin1').toString('utf8');
    expect(xmp).toContain('<pdfuaid:part>1</pdfuaid:part>');
    expect(xmp).toContain(
      '<rdf:li xml:lang="x-default">Flat after a weekend — 2017 panel van, 2.0 diesel</rdf:li></rdf:Alt></dc:title>',
    );
    expect(xmp).toContain('<dc:language><rdf:Bag><rdf:li>en</rdf:li>');
    expect(xmp).toContain('<xmp:CreatorTool>Standstill</xmp:CreatorTool>');
    expect(xmp).toContain('<xmp:CreateDate>1970-01-01T00:00:00Z</xmp:CreateDate>');
    // The same facts as in the older place.
    expect(objects.some((body) => /\/Title </.test(body) && /\/CreationDate \(D:19700101000000/.test(body))).toBe(true);
  });

  it('is tagged, shows its title (07-001, 07-002), and names its language (11-006)', () => {
    const [catalog] = ofType('Catalog');
    expect(catalog).toMatch(/\/Marked true/);
    expect(catalog).toMatch(/\/StructTreeRoot \d+ 0 R/);
    expect(catalog).toMatch(/\/Lang \(en\)/);
    expect(catalog).toMatch(/\/DisplayDocTitle true/);
    expect(catalog).toContain('/EmbeddedFiles');
  });

  it('draws nothing that is neither a part of the document nor decoration (01-003 to 01-005)', () => {
    const streams = [...ofType('Page').map((body) => /\/Contents (\d+ 0 R)/.exec(body)?.[1] ?? '')].map(at);
    expect(streams.length).toBeGreaterThan(3);
    for (const body of streams) {
      const data = /stream\n([\s\S]*)\nendstream$/.exec(body)?.[1] ?? '';
      const marks: string[] = [];
      for (const line of inflateSync(Buffer.from(data, 'latin1')).toString('latin1').split('\n')) {
        if (/B[DM]C$/.test(line)) {
          if (/MCID/.test(line)) expect(marks).toEqual([]);
          marks.push(line);
        } else if (line === 'EMC') marks.pop();
        else if (/ (f\*?|S|B|TJ|Tj)$|^(f\*?|S|B)$/.test(line)) expect(marks.length, line).toBeGreaterThan(0);
      }
    }
  });

  it('builds its tables and lists as they must be (09-004, 09-005)', () => {
    expect(elements('Table').length).toBeGreaterThan(3);
    expect(misplaced('TR', 'TH TD', 'Table THead TBody TFoot')).toEqual([]);
    expect(misplaced('Table', 'Caption TR THead TBody TFoot', 'Sect NonStruct Div Document Part Art')).toEqual([]);
    expect(elements('LI').length).toBeGreaterThan(5);
    expect(misplaced('LI', 'Lbl LBody', 'L')).toEqual([]);
    expect(elements('L').flatMap(kidsOf)).not.toContain('content');
    expect(misplaced('LBody', 'P NonStruct L Link Code Span Figure content', 'LI')).toEqual([]);
  });

  it('uses standard kinds of element only (02-001)', () => {
    const standard =
      'Document Art Sect Div NonStruct Part P H1 H2 H3 H4 L LI Lbl LBody Table TR TH TD THead TBody TFoot Caption Figure Link Span Code Quote Note Form Em';
    const used = new Set(ofType('StructElem').map((body) => /\/S \/(\w+)/.exec(body)?.[1]));
    expect([...used].filter((kind) => !standard.split(' ').includes(kind ?? ''))).toEqual([]);
  });

  it('says of every figure what it shows (13-004)', () => {
    const figures = elements('Figure');
    expect(figures.length).toBeGreaterThan(3);
    expect(figures.filter((body) => !/\/Alt (\(.|<)/.test(body))).toEqual([]);
  });

  it('has a heading of the first level, and skips none (14-002, 14-003)', () => {
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

  it('tells of every head of a table what it heads (15-003)', () => {
    const heads = elements('TH');
    expect(heads.length).toBeGreaterThan(30);
    expect(heads.filter((body) => !/\/Scope \/(Column|Row)/.test(body))).toEqual([]);
  });

  it('ties every link into its structure, says where it leads, and goes from one to the next in that order (28-008, 28-011, 28-012)', () => {
    const pages = ofType('Page').filter((body) => /\/StructParents/.test(body));
    expect(pages.length).toBeGreaterThan(3);
    expect(pages.filter((body) => !/\/Tabs \/S/.test(body))).toEqual([]);
    const links = [...bodies].filter(([, body]) => /\/Type \/Annot\s*\/Subtype \/Link/.test(body));
    expect(links.length).toBeGreaterThan(1);
    const held = elements('Link').flatMap((body) =>
      [...body.matchAll(/\/OBJR\s*\/Obj (\d+) 0 R/g)].map(([, n]) => Number(n)),
    );
    expect(links.filter(([number]) => !held.includes(number))).toEqual([]);
    const said = links.map(([, body]) => textOf(/\/Contents (<[^>]*>)/.exec(body)?.[1] ?? '()'));
    expect(said.filter((text) => text === '' || text.startsWith('finding-'))).toEqual([]);
    expect(said).toContain('Draw while parked and asleep');
  });

  it('carries every font in itself with the letters of its signs (31-009, 31-027), and leads nowhere outside', () => {
    const fonts = ofType('FontDescriptor');
    expect(fonts.length).toBeGreaterThan(1);
    expect(fonts.filter((body) => !/\/FontFile[23]? \d+ 0 R/.test(body))).toEqual([]);
    const composed = objects.filter((body) => /^<<\/Type \/Font\s*\/Subtype \/Type0/.test(body));
    expect(composed.length).toBeGreaterThan(1);
    expect(composed.filter((body) => !/\/ToUnicode \d+ 0 R/.test(body))).toEqual([]);
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
