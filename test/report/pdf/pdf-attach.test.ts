import { inflateSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { attachFile } from '../../../src/report/pdf/pdf-attach.ts';
import { readPdf } from '../../../src/report/pdf/pdf-objects.ts';

/** A PDF of one empty page, laid down as Chromium does. */
function printed(catalog = '<</Type /Catalog\n/Pages 2 0 R\n/MarkInfo <</Marked true>>\n/Lang (en)>>'): Buffer {
  const bodies = [
    '<</Title (x)>>',
    '<</Type /Pages /Count 1 /Kids [3 0 R]>>',
    '<</Type /Page /Parent 2 0 R>>',
    catalog,
  ];
  let text = '%PDF-1.4\n';
  const offsets = bodies.map((body, index) => {
    const offset = text.length;
    text += `${index + 1} 0 obj\n${body}\nendobj\n`;
    return `${String(offset).padStart(10, '0')} 00000 n \n`;
  });
  const xref = text.length;
  text += `xref\n0 5\n0000000000 65535 f \n${offsets.join('')}trailer\n<</Size 5\n/Root 4 0 R\n/Info 1 0 R>>\nstartxref\n${xref}\n%%EOF\n`;
  return Buffer.from(text, 'latin1');
}

const file = {
  name: 'report.json',
  description: 'The data of this report',
  type: 'application/json',
  data: Buffer.from('{"schema": "standstill-report/1", "ohm": "mΩ"}'),
  dateMs: Date.UTC(2026, 2, 8, 12),
} as const;

describe('a file in a PDF', () => {
  const before = printed();
  const after = attachFile(before, file) as Buffer;
  const text = after.toString('latin1');

  it('leaves every object that was printed but the catalog', () => {
    const [printedBodies, bodies] = [readPdf(before)?.bodies, readPdf(after)?.bodies];
    expect([...(printedBodies ?? [])].filter(([number, body]) => bodies?.get(number) !== body)).toEqual([
      [4, printedBodies?.get(4)],
    ]);
    expect(bodies?.size).toBe(6);
  });

  it('comes out as it went in', () => {
    const [head, length] = /\/EmbeddedFile .*\/Length (\d+)>> stream\n/.exec(text) as RegExpExecArray;
    const at = text.indexOf(head) + head.length;
    expect(inflateSync(after.subarray(at, at + Number(length)))).toEqual(file.data);
  });

  it('is named by a catalog that keeps language and tags', () => {
    const catalog = text.slice(text.lastIndexOf('4 0 obj'));
    expect(catalog).toContain('/MarkInfo <</Marked true>>');
    expect(catalog).toContain('/Lang (en)');
    expect(catalog).toContain('/Names <</EmbeddedFiles <</Names [(report.json) 6 0 R]>>>>');
    expect(catalog).toContain('/AF [6 0 R]');
  });

  it('is found by its offsets', () => {
    const startXref = Number(/startxref\n(\d+)\n%%EOF\n$/.exec(text)?.[1]);
    const table = text.slice(startXref);
    expect(table.startsWith('xref\n0 7\n')).toBe(true);
    const offsets = [...table.matchAll(/^(\d{10}) 00000 n $/gm)].map(([, offset]) => Number(offset));
    expect(offsets).toHaveLength(6);
    for (const [k, offset] of offsets.entries()) expect(text.slice(offset).startsWith(`${k + 1} 0 obj\n`)).toBe(true);
    expect(table).toContain('/Size 7\n');
  });

  it('gives the same bytes each time', () => expect(attachFile(printed(), file)).toEqual(after));

  it.each([
    ['no PDF', Buffer.from('%PDF')],
    ['a catalog that has names already', printed('<</Type /Catalog\n/Names <<>>>>')],
    ['a catalog that is none', printed('<</Type /Page>>')],
  ])('is not put into %s', (_what, pdf) => expect(attachFile(pdf, file)).toBeNull());
});
