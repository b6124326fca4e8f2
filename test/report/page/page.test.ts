import { createHash } from 'node:crypto';
import { readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { HtmlValidate } from 'html-validate';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { UserError } from '../../../src/base/problem.ts';
import { cssString, withPdfLink } from '../../../src/report/page/page.ts';
import { paragraphs } from '../../../src/report/page/template.ts';
import { flatten } from '../../../src/report/words/content.ts';
import { renderPage } from '../render-page.ts';
import { drawFault, plain, sampleContent, sampleReport, session } from '../sample.ts';

const svg =
  '<svg viewBox="0 0 720 200" role="img" aria-labelledby="c-t"><title id="c-t">Chart</title><path d="M0 0H9"/></svg>';
const charts = [
  { name: 'session-overview', check: null, title: 'The whole log', svg: svg.replaceAll('c-t', 'a-t') },
  { name: 'parked-draw', check: 'parked-draw', title: 'Draw while asleep', svg },
];
const points = { t: [0, 60], lo: [12, 12.1], hi: [12.3, 12.4], y: [12.2, 12.3] };
const series = { voltage: points, current: null, temperature: null };
const options = { pageSize: 'a4', content: sampleContent() } as const;
const page = renderPage(sampleReport(), charts, options);
/** Without styles: fonts are long, and hold no words. */
const body = (html: string) => html.replace(/<style>[\s\S]*?<\/style>/, '');

describe('the page', () => {
  it.each([
    ['with faults', page],
    [
      'all clear',
      renderPage(sampleReport({ findings: [plain('sleep-time', 'clear')] }), [], { ...options, pageSize: 'letter' }),
    ],
    ['with its script', renderPage(sampleReport(), charts, { ...options, series })],
    [
      'with nothing in it',
      renderPage({ ...sampleReport({ findings: [] }), wakes: [], cranks: [], drives: [], links: [] }, [], options),
    ],
  ])('%s is valid HTML', async (_name, html) => {
    const validator = new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: { 'no-inline-style': 'error', 'no-trailing-whitespace': 'off', 'long-title': 'off' },
    });
    const { results } = await validator.validateString(html);
    expect(
      results.flatMap((result) => result.messages.map((one) => `${one.line} ${one.ruleId}: ${one.message}`)),
    ).toEqual([]);
  });

  it('is whole: no script, and nothing that refers outside but the ways to its archive, its PDFs and its tables', () => {
    expect(page).not.toMatch(/<script|<link|<iframe|<img|@import|javascript:/i);
    const addresses = [...page.matchAll(/(?:src|href|url)\s*[=(]\s*["']?([^"')>\s]{1,40})/g)].map((hit) => hit[1]);
    expect(addresses.length).toBeGreaterThan(20);
    const tables = ['parked', 'wakes', 'cranks', 'drives', 'portrait'].map((name) => `tables/${name}.csv`);
    expect(addresses.filter((address) => !/^(#|data:font\/woff2)/.test(address))).toEqual([
      '../../index.html',
      'report.pdf',
      'customer.pdf',
      ...tables,
    ]);
  });

  it('says how many days it may stand, as the finding does', () => {
    const stand = (measured: { value: number; uncertainty: number } | null) => {
      const report = sampleReport();
      const finding = {
        ...report.findings[0],
        check: 'stand-time',
        measured: measured && { ...measured, unit: 's', coverage: 2 },
      };
      const html = body(renderPage({ ...report, findings: [finding] }, [], options));
      return /<dl class="stand">.*?<dd>(.*?)<\/dd>/.exec(html)?.[1].replaceAll('\u00a0', ' ');
    };
    const day = 86_400;
    expect(stand({ value: 50 * day, uncertainty: 21 * day })).toMatch(/29 to 71 days/);
    expect(stand({ value: 2 * day, uncertainty: 1.8 * day })).toMatch(/not even one day.*4 days at most/);
    expect(stand({ value: 0.4 * day, uncertainty: 0.1 * day })).toMatch(/Not for a whole day/);
    expect(stand(null)).toMatch(/cannot tell/);
  });

  it("has the workshop's assessment in its own words, escaped, and a place to sign", () => {
    const assessment = {
      text: 'It <b>wakes</b>.\n\nBy the tracker.',
      done: ['Battery charged'],
      offers: [{ work: 'New tracker', effort: '1.5 h', price: '245 € & VAT' }],
    };
    const report = sampleReport();
    const html = body(renderPage({ ...report, session: { ...report.session, assessment } }, charts, options));
    for (const words of [
      '<p>It &lt;b&gt;wakes&lt;/b&gt;.</p><p>By the tracker.</p>',
      'Battery charged',
      '245 € &amp; VAT',
    ])
      expect(html).toContain(words);
    expect(html).toContain('Ordered as ticked');
    expect(body(page)).toContain('For the workshop');
    expect(body(page)).not.toContain('Ordered as ticked');
  });

  it('runs one script of its own at most, which the page itself vouches for by its hash', () => {
    expect(page).toContain('script-src &#x27;none&#x27;');
    const html = renderPage(sampleReport(), charts, { ...options, series });
    const [, script] = /<script>([\s\S]*?)<\/script>/.exec(html) ?? [];
    const hash = createHash('sha256').update(script).digest('base64').replaceAll('=', '&#x3D;');
    expect(html).toContain(`script-src &#x27;sha256-${hash}&#x27;`);
    expect(html.match(/<script/g)).toHaveLength(2);
  });

  it('shows the way to its PDF only once there is one', () => {
    const link = (html: string) => /<li( hidden)? id="report-pdf-way">/.exec(html)?.[1];
    expect(link(page)).toBe(' hidden');
    expect(link(withPdfLink(page))).toBeUndefined();
    expect(withPdfLink(page)).toContain('<li id="report-pdf-way"><a href="report.pdf">');
  });

  it('carries language and title', () => {
    expect(page).toContain('<html lang="en">');
    expect(page).toContain('<title>Flat after a weekend — 2017 panel van, 2.0 diesel</title>');
  });

  it('shows every finding once, under its conclusion, faults first', () => {
    const headings = [...page.matchAll(/<h[34] id="finding-([a-z-]+)-heading">/g)].map((hit) => hit[1]);
    expect(headings).toEqual([
      'parked-draw',
      'wake-ups',
      'resting-charge',
      'sleep-time',
      'log-coverage',
      // Not measured, for want of current.
      'crank-voltage',
    ]);
  });

  it('puts value, uncertainty, limit and source together', () => {
    const text = body(page).replaceAll('\u00a0', ' ');
    expect(text).toContain('83 mA ± 2 mA</td><td class="number">at most 50 mA</td>');
    expect(text).toMatch(
      /<dd>83 mA ± 2 mA<\/dd>.*\s*.*<dd>at most 50 mA<\/dd>.*\s*.*<dd>Vehicle maker’s service information<\/dd>/,
    );
  });

  it('gives a figure its conclusion as caption', () => {
    expect(body(page).replaceAll('\u00a0', ' ')).toContain(
      'Figure 2. The vehicle draws 83 mA while asleep: the limit is 50 mA.</b>',
    );
  });

  it('takes its paper from the caller', () => {
    expect(page).toContain('@page { size: A4; }');
    expect(renderPage(sampleReport(), [], { ...options, pageSize: 'letter' })).toContain('@page { size: letter; }');
  });

  it('stays small without its charts', () => expect(page.length).toBeLessThan(220_000));

  it('shows fifty rows of a long table, a dozen on paper, and says where the others are', () => {
    const report = sampleReport();
    const wakes = Array.from({ length: 70 }, () => report.wakes[0]);
    const html = renderPage({ ...report, wakes }, [], options);
    expect(html).toContain('The first 50 of 70. All rows are in <code>tables/wakes.csv</code>.');
    expect(html).toContain('The first 12 of 70. All rows are in <code>tables/wakes.csv</code>.');
    expect(html.match(/<th scope="row" class="time">/g)).toHaveLength(53);
    expect(html.match(/<tr class="rest screen-only"[^>]*><th scope="row" class="time">/g)).toHaveLength(38);
  });
});

describe('text from outside', () => {
  const evil = `</style></title><script>alert(1)</script><img src=x onerror=alert(2)> "'{{constructor}} \\`;
  const dirty = sampleReport({
    session: {
      title: evil,
      concern: evil,
      repairOrder: evil,
      technician: evil,
      vehicle: { ...session.vehicle, description: evil, registration: evil },
      limits: { parkedDraw: { value: 0.05, source: evil } },
      install: { currentSensorPlace: evil },
      notes: [{ atMs: 0, text: evil }],
      photos: [{ file: evil, atMs: 60_000, atFrom: 'camera', text: evil }],
    },
    findings: [
      { ...drawFault, facts: { ...drawFault.facts, channel: evil }, limit: { value: 0.05, unit: 'A', source: evil } },
    ],
  });
  const report = {
    ...dirty,
    log: {
      ...dirty.log,
      files: [{ ...dirty.log.files[0], name: evil }],
      faults: [{ ...dirty.log.faults[0], file: evil, found: evil }],
      understood: [{ what: evil, how: evil }],
    },
    wakes: [{ ...dirty.wakes[0], channels: [evil] }],
  };
  const html = renderPage(report, [], options);

  it('comes out inert everywhere', () => {
    expect(html).not.toMatch(/<script|<img/i);
    expect(html.match(/<\/style/g)).toHaveLength(1);
    expect(html.match(/<\/title/g)).toHaveLength(1);
    expect(html.split('&lt;script&gt;alert(1)').length).toBeGreaterThan(15);
  });
  it('cannot end the data of the script', () => {
    const periods = [{ ...report.periods[0] }];
    const label = (key: string) => (key.startsWith('period.') ? evil : options.content.label(key));
    const page = renderPage({ ...report, periods }, [], { ...options, content: { ...options.content, label }, series });
    const [, json] = /id="explore-data">([\s\S]*?)<\/script>/.exec(page) ?? [];
    expect(JSON.parse(json).periods).toEqual([[0, 3600, evil, 'driving']]);
  });
  it('cannot end a CSS string or the style around it', () => {
    expect(cssString('a"b\\c</style>\n&')).toBe('"a\\22 b\\5c c\\3c /style\\3e \\a \\26 "');
  });
  it('is escaped within paragraphs and lists', () => {
    expect(paragraphs('a <b>\n\n- <i>\n- x')).toBe('<p>a &lt;b&gt;</p><ul><li>&lt;i&gt;</li><li>x</li></ul>');
  });
});

describe('labels', () => {
  const folder = (name: string) => fileURLToPath(new URL(`../../../${name}`, import.meta.url));
  const labels = flatten(parse(readFileSync(folder('content/en/labels.yaml'), 'utf8')));
  const sources = [
    ...['templates', 'templates/partials'].map(folder),
    ...['src/report', 'src/archive'].map(folder),
  ].flatMap((where) =>
    readdirSync(where, { withFileTypes: true, recursive: true }).flatMap((file) =>
      file.isFile() ? [readFileSync(`${file.parentPath}/${file.name}`, 'utf8')] : [],
    ),
  );
  const all = sources.join('\n');

  it('that templates ask for are all there', () => {
    const asked = [...all.matchAll(/\{\{t "([a-z_.]+)"\}\}/g)].map((hit) => hit[1]);
    expect(asked.length).toBeGreaterThan(60);
    expect(asked.filter((key) => !labels.has(key))).toEqual([]);
  });
  it('are all asked for', () => {
    const families = [
      'purpose.',
      'chemistry.',
      'status.',
      'stage.',
      'period.',
      'fault.',
      'facts.',
      'fitting.',
      'limit.',
      'tables.',
      'role.',
      'powertrain.',
      'comparison.',
      'model.',
      'figure.',
    ];
    const unused = [...labels.keys()].filter(
      (key) =>
        !families.some((family) => key.startsWith(family)) &&
        !all.includes(`"${key}"`) &&
        !all.includes(`'${key}'`) &&
        !all.includes(`'${key}#'`),
    );
    expect(unused).toEqual([]);
  });
  it('that are missing are named', () => {
    const { content } = options;
    expect(() => content.label('page.nothing')).toThrow(UserError);
    expect(() => content.label('page.nothing')).toThrow(/labels\.yaml page\.nothing/);
  });
});
