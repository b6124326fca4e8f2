import fc from 'fast-check';
import remarkParse from 'remark-parse';
import { unified } from 'unified';
import { describe, expect, it } from 'vitest';
import { makeFormat } from '../../../src/report/words/format.ts';
import {
  escapeMarkdown,
  part,
  readSections,
  readSteps,
  render,
  toHtml,
  toText,
} from '../../../src/report/words/prose.ts';

const format = makeFormat('en-GB', { offsetMs: () => 0 });
const say = (source: string, facts: Parameters<typeof render>[2] = {}) => render('some.md', source, facts, format);

describe('sections', () => {
  const file = readSections(
    'a.md',
    '# Name\nA question?\n\n## fault\n### title\nT\n### plain\nP\n\n```\n# no heading\n```\n## fault: odd\n### title\nO\n',
  );
  it('are cut at headings, and not at signs within code', () => {
    expect(file).toMatchObject({ name: 'Name', source: 'A question?' });
    expect(file.parts.map((one) => one.name)).toEqual(['fault', 'fault: odd']);
    expect(part(part(file, 'fault'), 'plain')?.source).toContain('# no heading');
    expect(part(part(file, 'fault: odd'), 'title')?.source).toBe('O');
  });
  it('need a title', () => expect(() => readSections('b.md', 'text')).toThrow(/b\.md:1 .*title/));
});

describe('rendering', () => {
  it('formats with helpers, and takes a second value as uncertainty', () => {
    expect(say('{{mA drawA drawUA}}, {{count n "stand" "stands"}}', { drawA: 0.0832, drawUA: 0.0021, n: 2 })).toBe(
      '83\u00a0mA ±\u00a02\u00a0mA, 2\u00a0stands'.replace(' ±', '\u00a0±'),
    );
  });
  it('chooses with if, also on a fact that is not there', () => {
    expect(say('{{#if x}}yes{{else}}no{{/if}}')).toBe('no');
  });
  it('writes a null as not known', () => expect(say('{{V v}}', { v: null })).toBe('not known'));
  it.each(['{{mA missing}}', '{{mA a missing}}', '{{missing}}', '{{nosuch a}}', '{{#if a}}'])(
    'refuses %s with the file’s name',
    (source) => {
      expect(() => say(source, { a: 1 })).toThrow(/some\.md/);
    },
  );
});

describe('facts are not trusted', () => {
  const nasty =
    '<script>alert(1)</script> **b** [l](javascript:x) ![i](http://e.org/x)\n# head\n- item | &amp; {{a}} `c`';
  it('come out as the very text, in words and in HTML', () => {
    const markdown = say('Circuit {{name}} was on.', { name: nasty });
    expect(toText(markdown)).toBe(`Circuit ${nasty.replaceAll('\n', ' ')} was on.`);
    const html = toHtml(markdown);
    expect(html).not.toMatch(/<script|<strong|<a |<img|<h1|<li|<code/);
    expect(html).toContain('&#x3C;script>');
  });
  it('whatever they are', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (name) => {
        const expected = name.replaceAll(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
        expect(toText(`a ${escapeMarkdown(name)} b`)).toBe(`a ${expected} b`.replace('a  b', 'a b'));
      }),
    );
  });
});

describe('content', () => {
  it('passes no raw HTML, links or images on', () => {
    const html = toHtml(
      'a <b onclick="x">raw</b> <script>x</script> [link](http://e.org) ![i](http://e.org/i.png) **bold**',
    );
    expect(html).toBe('<p>a raw x link  <strong>bold</strong></p>');
  });
  it('becomes plain text with paragraphs and lists', () => {
    expect(toText('One\nline.\n\nTwo **bold**.\n\n- a\n- b')).toBe('One line.\n\nTwo bold.\n\n- a\n- b');
  });
  it('is the same for a sentence without a mark whether it is read as Markdown or not', () => {
    const reader = unified().use(remarkParse);
    const sign = fc.constantFrom(
      ...' .,:;-+=#~1)(%"\'/|{}!?^$@',
      'a',
      'Ω',
      '–',
      '…',
      '\u00a0',
      '\u202f',
      '*',
      '&',
      '\n',
    );
    const text = fc.oneof(fc.string({ unit: sign }), fc.string({ unit: 'grapheme' }));
    const same = fc.property(text, (one) => {
      expect(toText(one)).toBe(toText(reader.parse(one)));
    });
    fc.assert(same, { numRuns: 2000 });
  });
});

describe('next steps', () => {
  it('carry their stage', () => {
    expect(readSteps('x.md', '- safety: gloves on\n- verify: log *again*')).toEqual([
      { stage: 'safety', text: 'Gloves on' },
      { stage: 'verify', text: 'Log again' },
    ]);
  });
  it('without one are refused, with the stages that there are', () => {
    expect(() => readSteps('x.md', '- gloves on')).toThrow(
      /x\.md .*safety, confirm, isolate, repair, verify.*gloves on/,
    );
  });
});
