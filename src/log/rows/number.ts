/** Numbers as loggers write them: the careful reading. The row reader has a faster one for the plain form. */
export type Decimal = '.' | ',';

/** `10 ** k`, exact in a double up to 22: dividing a whole number by one of these rounds once, as the standard asks. */
export const POWER_OF_TEN: readonly number[] = Array.from({ length: 23 }, (_, k) => Number(`1e${k}`));

const PLAIN = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?$/;
const MISSING = new Set(['', 'nan', '-nan', 'null', 'none', 'n/a', 'na', '#n/a', '-', '--', '---', '?']);
// Between groups of three: what is not the decimal sign, a space of any width, an apostrophe.
const GROUPED = {
  '.': /^[+-]?\d{1,3}(?:([,\s'’])\d{3})(?:\1\d{3})*(?:\.\d+)?$/u,
  ',': /^[+-]?\d{1,3}(?:([.\s'’])\d{3})(?:\1\d{3})*(?:,\d+)?$/u,
} as const;

/**
 * A cell's value; NaN where it says that there is none (empty, `NaN`, `-`); undefined where it is no number.
 * `unit` may follow the number, as in `12.6 V`.
 */
export function readNumber(cell: string, decimal: Decimal, unit?: string): number | undefined {
  let text = cell.trim();
  if (unit !== undefined && text.endsWith(unit)) text = text.slice(0, -unit.length).trimEnd();
  if (MISSING.has(text.toLowerCase())) return Number.NaN;
  if (GROUPED[decimal].test(text)) text = text.replace(decimal === '.' ? /[,\s'’]/gu : /[.\s'’]/gu, '');
  if (decimal === ',') {
    if (text.includes('.')) return undefined;
    text = text.replace(',', '.');
  }
  return PLAIN.test(text) ? Number(text) : undefined;
}

/**
 * The decimal sign of times that are counts. Many loggers write values as their language asks and counts with a point (or the
 * other way round): the column's own sign is taken where its numbers could not be read, or begin with a nought, by that of the values.
 */
export function signOfCounts(cells: readonly string[], decimal: Decimal): Decimal {
  const other = decimal === ',' ? '.' : ',';
  if (cells.some((cell) => cell.includes(decimal))) return decimal;
  const isOther = (cell: string) => readNumber(cell, other) !== undefined;
  const shows = cells.some(
    (cell) => isOther(cell) && (readNumber(cell, decimal) === undefined || /^\s*0[.,]/.test(cell)),
  );
  return shows ? other : decimal;
}

/** `unsure`: every comma stands before three digits, so that `1,234` could be one and a bit, or a thousand and more. */
export type DecimalGuess = { readonly decimal: Decimal } | { readonly unsure: string };

/** What the cells of number columns say of the decimal sign. */
export function sniffDecimal(cells: readonly string[]): DecimalGuess {
  let unsure: string | undefined;
  for (const cell of cells) {
    const comma = cell.lastIndexOf(',');
    if (comma < 0) continue;
    const point = cell.lastIndexOf('.');
    if (point >= 0) return { decimal: comma > point ? ',' : '.' };
    if (!/^\s*[+-]?\d*(?:,\d+)+/.test(cell)) continue;
    if (!/^\s*[+-]?[1-9]\d{0,2}(?:,\d{3})+(?!\d)/.test(cell)) return { decimal: ',' };
    unsure ??= cell.trim();
  }
  // A plain point elsewhere (`12.6`) shows that the commas part thousands.
  if (unsure !== undefined && !cells.some((cell) => /^\s*[+-]?\d*\.\d+\s*$/.test(cell))) return { unsure };
  return { decimal: '.' };
}
