import { HtmlValidate } from 'html-validate';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import { SECTIONS } from '../../../src/manifest/schema.ts';
import { loadContent } from '../../../src/node/content.ts';
import { renderFittingSheet } from '../../../src/report/page/fitting-sheet.ts';
import { openPrinter } from '../../../src/report/pdf/browser.ts';

const OPTIONS = { pageSize: 'a4', content: loadContent('en') } as const;
const FACTS = [{ key: 'vehicle', value: '<b>Van</b> & "co"' }, { key: 'registration' }];
const html = renderFittingSheet({ title: 'Flat <again>', facts: FACTS }, OPTIONS);

describe('fitting sheet, printed', () => {
  it('is one sheet of cautions and two sides of steps, on either paper', async () => {
    const printer = await openPrinter();
    try {
      for (const pageSize of ['a4', 'letter'] as const) {
        const page = renderFittingSheet({ facts: FACTS }, { ...OPTIONS, pageSize });
        const pdf = await printer.print({ name: 'sheet', html: page, pageSize, dateMs: 0 });
        expect(pdf.toString('latin1').match(/\/Type \/Page\b/g)).toHaveLength(3);
      }
    } finally {
      await printer.close();
    }
  });
});

describe('fitting sheet', () => {
  it('says the cautions before the first step', () => {
    const order = [
      'first',
      'acid',
      'hydrogen',
      'short-circuit',
      'high-voltage',
      'airbag',
      'memory-supply',
      'moving-parts',
    ];
    const places = [...order.map((id) => html.indexOf(`id="caution-${id}"`)), html.indexOf('class="ticks"')];
    expect(places.every((place) => place > 0)).toBe(true);
    expect(places).toEqual(places.toSorted((a, b) => a - b));
  });

  it('defers to maker, local rules and licence', () => {
    for (const word of ["vehicle maker's instructions", 'local rules', 'licence']) {
      expect(html.replaceAll(/&#x27;|&#39;/g, "'")).toContain(word);
    }
  });

  it('has a box for each step, each labelled', () => {
    const boxes = [...html.matchAll(/<input type="checkbox" id="([^"]+)">/g)].map(([, id]) => id);
    expect(boxes.length).toBeGreaterThan(20);
    expect(new Set(boxes).size).toBe(boxes.length);
    for (const id of boxes) expect(html).toContain(`<label for="${id}">`);
  });

  it('asks for what the manifest takes, by names that it knows', () => {
    const names = [...html.matchAll(/<code>([a-z_.]+)<\/code><\/dt>/g)].map(([, name]) => name);
    const install = z.toJSONSchema(SECTIONS.install, { io: 'input' }) as {
      properties: Record<string, { properties?: object }>;
    };
    const known = Object.entries(install.properties).flatMap(([key, { properties }]) => [
      key,
      ...Object.keys(properties ?? {}).map((inner) => `${key}.${inner}`),
    ]);
    expect(names).toContain('memory_saver.voltage_during');
    expect(names).toContain('draw_at_start');
    expect(names.filter((name) => ![...known, 'notes', 'positive'].includes(name))).toEqual([]);
  });

  it('escapes what came from outside, and leaves room for what is not known', () => {
    expect(html).not.toContain('<b>Van</b>');
    expect(html).toContain('Flat &lt;again&gt;');
    expect(html).toContain('<dt>Registration</dt><dd></dd>');
  });

  it('leaves no mark of a field in the text, and refers to nothing outside', () => {
    const text = html.slice(html.indexOf('<body'));
    expect(text).not.toMatch(/[{}|]/);
    expect(html).not.toMatch(/(?:src|href)="(?!#|data:)/);
  });

  it('is valid HTML', async () => {
    const validator = new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: { 'no-inline-style': 'error', 'no-trailing-whitespace': 'off', 'long-title': 'off' },
    });
    const { results } = await validator.validateString(html);
    expect(
      results.flatMap(({ messages }) => messages.map(({ ruleId, message, line }) => `${line} ${ruleId}: ${message}`)),
    ).toEqual([]);
  });

  it('says which part of its words is missing', () => {
    const content = { ...loadContent('en'), text: () => '# Sheet\n\n## kind\n\nA kind\n' };
    expect(() => renderFittingSheet({ facts: [] }, { ...OPTIONS, content })).toThrow(
      /fitting-sheet\.md.*"## intro" is missing/,
    );
  });
});
