/** Reads a font file's letters and their widths. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { inflateSync } from 'node:zlib';

const { resolve } = createRequire(import.meta.url);

/** Widths of one of the files that the pages embed. */
export const interWidths = (subset: string, weight: number): ReadonlyMap<number, number> =>
  woffWidths(readFileSync(resolve(`@fontsource/inter/files/inter-${subset}-${weight}-normal.woff`)));

/** Code point → advance width in em. WOFF 1.0 (W3C 2012) around OpenType's `cmap` (format 4), `hmtx`, `hhea`, `head`. */
function woffWidths(woff: Buffer): ReadonlyMap<number, number> {
  const table = woffTables(woff);
  const unitsPerEm = table('head').readUInt16BE(18);
  const metrics = table('hmtx');
  const lastMetric = table('hhea').readUInt16BE(34) - 1;
  const widths = new Map<number, number>();
  for (const [codePoint, glyph] of glyphs(table('cmap')))
    widths.set(codePoint, metrics.readUInt16BE(4 * Math.min(glyph, lastMetric)) / unitsPerEm);
  return widths;
}

function woffTables(woff: Buffer): (tag: string) => Buffer {
  const found = new Map<string, Buffer>();
  for (let k = 0, count = woff.readUInt16BE(12); k < count; k++) {
    const entry = 44 + 20 * k;
    const [offset, packed, full] = [4, 8, 12].map((at) => woff.readUInt32BE(entry + at));
    const bytes = woff.subarray(offset, offset + packed);
    found.set(woff.toString('latin1', entry, entry + 4), packed < full ? inflateSync(bytes) : bytes);
  }
  return (tag) => {
    const bytes = found.get(tag);
    if (bytes === undefined) throw new Error(`font without table ${tag}`);
    return bytes;
  };
}

/** Pairs of code point and glyph number from the first format 4 subtable. */
function* glyphs(cmap: Buffer): Generator<[number, number]> {
  const subtables = Array.from({ length: cmap.readUInt16BE(2) }, (_, k) => cmap.readUInt32BE(8 + 8 * k));
  const at = subtables.find((offset) => cmap.readUInt16BE(offset) === 4);
  if (at === undefined) throw new Error('font without a format 4 character map');
  const segments = cmap.readUInt16BE(at + 6) / 2;
  const [ends, starts, deltas, offsets] = [14, 16 + 2 * segments, 16 + 4 * segments, 16 + 6 * segments];
  for (let s = 0; s < segments; s++) {
    const word = (array: number) => cmap.readUInt16BE(at + array + 2 * s);
    for (let codePoint = word(starts); codePoint <= word(ends) && codePoint < 0xffff; codePoint++) {
      const indirect = word(offsets);
      const place = at + offsets + 2 * s + indirect + 2 * (codePoint - word(starts));
      const base = indirect === 0 ? codePoint : cmap.readUInt16BE(place);
      if (base !== 0) yield [codePoint, (base + word(deltas)) & 0xffff];
    }
  }
}
