import { expect, test } from 'vitest';
import { tableOf, textWidthPx } from '../../../src/charts/drawing/font-widths.ts';
import { interWidths } from './woff.ts';

// Measured once with Chromium 156: canvas measureText at 100 px, the same font files, kerning off.
test.each([
  [400, '47 ± 10 mA', 532.080078125],
  [600, 'Wed 4 Mar, 17:52', 842.28515625],
  [400, '−12.6 °C', 405.37109375],
])('the width of text in weight %i is the browser’s: %s', (weight, text, px) => {
  expect(textWidthPx(text, 100, weight)).toBeCloseTo(px, 6);
});

test('a heavier text is wider, and width goes with size', () => {
  expect(textWidthPx('asleep', 11, 600)).toBeGreaterThan(textWidthPx('asleep', 11, 400));
  expect(textWidthPx('asleep', 22)).toBeCloseTo(2 * textWidthPx('asleep', 11), 9);
});

test('the ohm sign comes from the Greek file and is no guess', () => {
  expect(textWidthPx('Ω', 100)).not.toBe(60);
  expect(textWidthPx('\u{1f600}', 100)).toBe(60);
});

test.each([400, 600] as const)(
  'in weight %i each letter is as wide as the embedded files say, and no other is known',
  (weight) => {
    const files = [...interWidths('greek', weight), ...interWidths('latin', weight)];
    expect(tableOf(weight)).toEqual(new Map(files));
  },
);
