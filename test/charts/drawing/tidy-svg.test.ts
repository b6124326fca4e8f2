import { expect, it } from 'vitest';
import { tidySvg } from '../../../src/charts/drawing/tidy-svg.ts';

const TEXT = { title: 'A <title>', desc: 'What & why', idPrefix: 'fig1' };
const raw = (body: string) => `<svg class="marks" width="420.4" height="150">${body}</svg>`;

it('names the picture once, in words that are no marks', () => {
  const svg = tidySvg(raw(''), TEXT);
  expect(svg).toContain('<title id="fig1-title">A &lt;title&gt;</title><desc id="fig1-desc">What &amp; why</desc>');
  expect(svg).toContain('width="421" height="150" viewBox="0 0 421 150"');
});

it('gives its ids a name of their own, where they are used too', () => {
  const svg = tidySvg(raw('<g clip-path="url(#clip0)"/><clipPath id="clip0"/>'), TEXT);
  expect(svg).toContain('url(#fig1-clip0)');
  expect(svg).toContain('id="fig1-clip0"');
});

it('rounds coordinates, and never a text', () => {
  const svg = tidySvg(raw('<text x="10.123" aria-label="n">10.123 mA, class="x"</text>'), TEXT);
  expect(svg).toContain('<text x="10.1">10.123 mA, class="x"</text>');
});

it('gives a narrow picture room, and refuses what is none', () => {
  expect(tidySvg(raw(''), { ...TEXT, widthPx: 600 })).toContain('width="600"');
  expect(() => tidySvg('', TEXT)).toThrow('no picture');
});
