import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { loadShop, shopKey } from '../../../src/node/shop.ts';
import { contrast, parseColour, withContrast } from '../../../src/report/shop/colour.ts';
import { renderPage } from '../render-page.ts';
import { sampleReport } from '../sample.ts';

describe('contrast', () => {
  it.each([
    ['#000000', '#ffffff', 21],
    ['#ffffff', '#ffffff', 1],
    ['#777777', '#ffffff', 4.48],
  ])('of %s on %s is %d', (a, b, ratio) => {
    expect(contrast(parseColour(a) ?? [0, 0, 0], parseColour(b) ?? [0, 0, 0])).toBeCloseTo(ratio, 2);
  });
  it.each(['17527f', '#175', 'red', '#17527g', ''])('"%s" is no colour', (text) =>
    expect(parseColour(text)).toBeNull(),
  );
  it('moves a colour only as far as it must', () => {
    expect(withContrast([0x17, 0x52, 0x7f], [255, 255, 255], [0, 0, 0], 4.5)).toBe('#17527f');
    const moved = parseColour(withContrast([255, 220, 0], [255, 255, 255], [0, 0, 0], 4.5)) ?? [0, 0, 0];
    expect(contrast(moved, [255, 255, 255])).toBeGreaterThanOrEqual(4.5);
    expect(contrast(moved, [255, 255, 255])).toBeLessThan(5);
  });
});

describe('shop.yaml', () => {
  let folder: string;
  beforeEach(() => {
    folder = mkdtempSync(join(tmpdir(), 'standstill-shop-'));
  });
  afterEach(() => rmSync(folder, { recursive: true, force: true }));
  const shop = (yaml: string) => {
    writeFileSync(join(folder, 'shop.yaml'), yaml);
    return loadShop(folder);
  };

  it('need not be there', () => expect(loadShop(folder)).toBeNull());

  it('gives the report its face', () => {
    writeFileSync(join(folder, 'logo.svg'), '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9"/></svg>');
    const found = shop(
      'name: Harbour Lane Garage\naddress: [12 Harbour Lane, Cork]\nlogo: logo.svg\naccent: "#ffdd00"\npage: letter\nfooter: "Ask </style> us"\n',
    );
    expect(found?.pageSize).toBe('letter');
    const html = renderPage(sampleReport(), [], { pageSize: 'a4', shop: found });
    expect(html).toContain('<b>Harbour Lane Garage</b> <span>12 Harbour Lane</span> <span>Cork</span>');
    expect(html).toMatch(
      /<img src="data:image\/svg\+xml;base64,[A-Za-z0-9+/]+(?:&#x3D;)* *" alt="Harbour Lane Garage">/,
    );
    expect(html).toContain(`:root { --link: ${found?.accent?.light}; --accent: ${found?.accent?.light}; }`);
    expect(html).toContain('@bottom-left { content: "Ask \\3c /style\\3e  us"; }');
    expect(html.match(/<\/style/g)).toHaveLength(1);
  });

  it('may bring words and templates of its own, file by file', () => {
    mkdirSync(join(folder, 'ours', 'partials'), { recursive: true });
    mkdirSync(join(folder, 'words', 'en'), { recursive: true });
    writeFileSync(join(folder, 'ours', 'partials', 'fitting.hbs'), '<p>Our own fitting record</p>');
    writeFileSync(join(folder, 'words', 'en', 'glossary.md'), '# Glossary\n\n## ampere\n\nOur own word.\n');
    const html = renderPage(sampleReport(), [], {
      pageSize: 'a4',
      shop: shop('templates: ours\ncontent: words\n'),
    });
    expect(html).toContain('<p>Our own fitting record</p>');
    expect(html).toContain('Our own word.');
    expect(html).toContain('id="method"');
  });

  it('has a key that changes with its file and with what it brings', () => {
    mkdirSync(join(folder, 'words', 'en'), { recursive: true });
    const prose = join(folder, 'words', 'en', 'glossary.md');
    writeFileSync(prose, 'One');
    const key = () => shopKey(shop('content: words\n'));
    const before = key();
    expect(key()).toBe(before);
    writeFileSync(prose, 'Two');
    expect(key()).not.toBe(before);
    expect(shopKey(shop('content: words\nfooter: x\n'))).not.toBe(key());
    expect(shopKey(null)).toBe(shopKey(null));
  });

  it.each([
    ['nmae: x\n', /shop\.yaml:1.*Unknown key "nmae"\. Did you mean name\?/],
    ['accent: "yellow"\n', /accent: Found "yellow".*#17527f/],
    ['logo: logo.png\n', /logo: There is no file "logo.png"/],
    ['logo: ../logo.png\n', /logo: /],
    ['page: a5\n', /page: Found "a5".*a4.*letter/],
    ['templates: nothing\n', /templates: Found "nothing", which is no folder/],
  ])('%j is told with its place', (yaml, message) => expect(() => shop(yaml)).toThrow(message));

  it('takes no logo that is more than a picture', () => {
    writeFileSync(join(folder, 'logo.svg'), '<svg><script>alert(1)</script></svg>');
    expect(() => shop('logo: logo.svg\n')).toThrow(/it holds scripts/);
  });
});
