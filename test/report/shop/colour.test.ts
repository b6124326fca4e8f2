import { expect, it } from 'vitest';
import { contrast, parseColour, withContrast } from '../../../src/report/shop/colour.ts';

const WHITE = [255, 255, 255] as const;
const BLACK = [0, 0, 0] as const;

// WCAG 2.2: black on white is 21 to 1, a colour on itself 1 to 1; #767676 is the lightest grey that has 4.5 on white.
it('is the contrast ratio of WCAG', () => {
  expect(contrast(BLACK, WHITE)).toBeCloseTo(21, 9);
  expect(contrast(WHITE, WHITE)).toBe(1);
  expect(contrast([0x76, 0x76, 0x76], WHITE)).toBeGreaterThanOrEqual(4.5);
  expect(contrast([0x77, 0x77, 0x77], WHITE)).toBeLessThan(4.5);
});

it('reads a colour, and nothing that is none', () => {
  expect(parseColour('#17527F')).toEqual([0x17, 0x52, 0x7f]);
  for (const text of ['17527f', '#17f', '#17527fg', 'red', '']) expect(parseColour(text)).toBeNull();
});

it('darkens a colour only as far as it must', () => {
  expect(withContrast([0x17, 0x52, 0x7f], WHITE, BLACK, 4.5)).toBe('#17527f');
  const darker = parseColour(withContrast([0xff, 0xd0, 0x00], WHITE, BLACK, 4.5));
  expect(darker && contrast(darker, WHITE)).toBeGreaterThanOrEqual(4.5);
  expect(darker && contrast(darker, WHITE)).toBeLessThan(5.5);
});
