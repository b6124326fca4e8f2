import { describe, expect, it } from 'vitest';
import { marked, marksWithText } from '../../../src/report/pdf/pdf-marks.ts';

const NONE: ReadonlySet<number> = new Set();
const mark = (lines: readonly string[], decoration = NONE, tagged: readonly string[] = []) =>
  marked(lines.join('\n'), decoration, (name) => tagged.includes(name))?.split('\n') ?? null;
const [ARTIFACT, END] = ['/Artifact BMC', 'EMC'];
const WORDS = ['BT', '/F4 10 Tf', '<0054> Tj', 'ET'];
const P0 = '/P <</MCID 0 >>BDC';

describe('what a page draws outside of all marks', () => {
  it('becomes an artifact, path by path and text by text', () => {
    const page = ['q', '.5 g', '0 0 680 3 re', 'f', '0 0 m', '9 9 l', 'S', ...WORDS, 'Q'];
    expect(mark(page)).toEqual([
      ...['q', '.5 g', ARTIFACT, '0 0 680 3 re', 'f', END],
      ...[ARTIFACT, '0 0 m', '9 9 l', 'S', END],
      ...[ARTIFACT, ...WORDS, END, 'Q'],
    ]);
  });
  it('is left where it only cuts out, and where it is marked', () => {
    const page = ['0 0 9 9 re', 'W* n', P0, '0 0 9 9 re', 'f', ...WORDS, END];
    expect(mark(page)).toEqual(page);
  });
  it('is left where a drawing within has marks of its own, and no other', () => {
    expect(mark(['/X3 Do', '/X4 Do'], NONE, ['X3'])).toEqual(['/X3 Do', ARTIFACT, '/X4 Do', END]);
  });
  it('keeps the letters that a text stands for', () => {
    const page = [P0, 'BT', '/Span<</ActualText <FEFF202F> >> BDC', '<01> Tj', END, 'ET', END];
    expect(mark(page)).toEqual(page);
  });
});

it('parts named as decoration become artifacts, others stay', () => {
  const page = [P0, '0 0 9 1 re', 'f', END, '/P <</MCID 1 >>BDC', ...WORDS, END];
  expect(mark(page, new Set([0]))).toEqual([ARTIFACT, ...page.slice(1)]);
});

it.each([
  ['a mark that begins within a text', ['BT', P0, '<01> Tj', END, 'ET']],
  ['an end too many', [P0, END, END]],
  ['a mark without an end', [P0]],
  ['a path without an end', ['0 0 m']],
])('%s is not taken', (_what, page) => expect(mark(page)).toBeNull());

it('tells which parts show text or a drawing', () => {
  const page = [P0, 'f', END, '/P <</MCID 1 >>BDC', ...WORDS, END, '/P <</MCID 2 >>BDC', '/X3 Do', END];
  expect([...marksWithText(page.join('\n'))]).toEqual([1, 2]);
});
