/** Writes a baseline JPEG (ITU-T T.81) of planes as they are: no colour is converted, so what they mean stays what it was. */
import type { Plane, Planes } from './jpeg-read.ts';
import { COARSENESS, cosines, HUFFMAN, type HuffmanTable, ZIGZAG } from './jpeg-tables.ts';

/** @param quality 1 to 100, as free encoders count it: 50 keeps the published steps, 100 keeps all. */
export function writeJpeg({ width, height, planes, heads }: Planes, quality: number): Buffer {
  const isColour = (k: number) => planes.length === 3 && k > 0;
  const tables = [steps(COARSENESS.brightness, quality), steps(COARSENESS.colour, quality)];
  const size = [height >> 8, height & 255, width >> 8, width & 255];
  const parts = planes.flatMap((plane, k) => [plane.id, (plane.across << 4) | plane.down, Number(isColour(k))]);
  return Buffer.concat([
    Buffer.from([0xff, 0xd8]),
    ...heads,
    ...tables.map((table, id) => segment(0xdb, [id, ...ZIGZAG.map((place) => table[place])])),
    segment(0xc0, [8, ...size, planes.length, ...parts]),
    segment(0xc4, [0x00, ...HUFFMAN.dc.counts, ...HUFFMAN.dc.symbols]),
    segment(0xc4, [0x10, ...HUFFMAN.ac.counts, ...HUFFMAN.ac.symbols]),
    segment(0xda, [planes.length, ...planes.flatMap(({ id }) => [id, 0]), 0, 63, 0]),
    scanOf(
      width,
      height,
      planes,
      planes.map((_, k) => tables[Number(isColour(k))]),
    ),
    Buffer.from([0xff, 0xd9]),
  ]);
}

function segment(marker: number, body: readonly number[]): Buffer {
  return Buffer.from([0xff, marker, (body.length + 2) >> 8, (body.length + 2) & 255, ...body]);
}

function steps(coarseness: readonly number[], quality: number): number[] {
  const percent = quality < 50 ? 5000 / quality : 200 - 2 * quality;
  return coarseness.map((step) => Math.min(Math.max(Math.floor((step * percent + 50) / 100), 1), 255));
}

function scanOf(
  width: number,
  height: number,
  planes: readonly Plane[],
  tables: readonly (readonly number[])[],
): Buffer {
  const unitsAcross = Math.ceil(width / (8 * Math.max(...planes.map(({ across }) => across))));
  const unitsDown = Math.ceil(height / (8 * Math.max(...planes.map(({ down }) => down))));
  const bits = bitWriter();
  const block = blockWriter(bits);
  const before = planes.map(() => 0);
  for (let unit = 0; unit < unitsAcross * unitsDown; unit++) {
    for (const [k, plane] of planes.entries()) {
      const [left, top] = [(unit % unitsAcross) * plane.across, Math.floor(unit / unitsAcross) * plane.down];
      for (let n = 0; n < plane.across * plane.down; n++) {
        const [x, y] = [(left + (n % plane.across)) * 8, (top + Math.floor(n / plane.across)) * 8];
        before[k] = block(plane, x, y, tables[k], before[k]);
      }
    }
  }
  return bits.finish();
}

function blockWriter(bits: ReturnType<typeof bitWriter>) {
  const basis = cosines(8);
  const half = new Float64Array(64);
  const kept = new Int32Array(64);
  const [dc, ac] = [codesOf(HUFFMAN.dc), codesOf(HUFFMAN.ac)];

  function transform({ data, width, height }: Plane, left: number, top: number, table: readonly number[]): void {
    for (let y = 0; y < 8; y++) {
      // Beyond the edge the last row and column are repeated.
      const row = Math.min(top + y, height - 1) * width;
      for (let u = 0; u < 8; u++) {
        let sum = 0;
        for (let x = 0; x < 8; x++) sum += basis[x * 8 + u] * (data[row + Math.min(left + x, width - 1)] - 128);
        half[y * 8 + u] = sum;
      }
    }
    for (let v = 0; v < 8; v++)
      for (let u = 0; u < 8; u++) {
        let sum = 0;
        for (let y = 0; y < 8; y++) sum += basis[y * 8 + v] * half[y * 8 + u];
        kept[v * 8 + u] = Math.round(sum / table[v * 8 + u]);
      }
  }

  /** Returns the block's mean in steps, from which the next one's difference is told. */
  return (plane: Plane, left: number, top: number, table: readonly number[], before: number): number => {
    transform(plane, left, top, table);
    bits.number(dc, 0, kept[0] - before);
    let zeros = 0;
    for (let k = 1; k < 64; k++) {
      const value = kept[ZIGZAG[k]];
      if (value === 0) {
        zeros += 1;
        continue;
      }
      for (; zeros > 15; zeros -= 16) bits.code(ac, 0xf0);
      bits.number(ac, zeros, value);
      zeros = 0;
    }
    if (zeros > 0) bits.code(ac, 0);
    return kept[0];
  };
}

/** Length and bits of each symbol's code (C.2). */
function codesOf({ counts, symbols }: HuffmanTable): readonly (readonly [length: number, code: number])[] {
  const codes: [number, number][] = [];
  let [code, k] = [0, 0];
  for (let length = 1; length <= 16; length++) {
    for (let n = 0; n < counts[length - 1]; n++) codes[symbols[k++]] = [length, code++];
    code <<= 1;
  }
  return codes;
}

type Codes = ReturnType<typeof codesOf>;

function bitWriter() {
  let bytes = Buffer.alloc(1 << 16);
  let [at, held, count] = [0, 0, 0];
  const put = (length: number, value: number) => {
    held = (held << length) | value;
    count += length;
    for (; count >= 8; count -= 8) {
      if (at + 2 > bytes.length) bytes = Buffer.concat([bytes, Buffer.alloc(bytes.length)]);
      const byte = (held >>> (count - 8)) & 0xff;
      bytes[at++] = byte;
      // So that no marker is seen where none is.
      if (byte === 0xff) bytes[at++] = 0;
    }
  };
  const code = (codes: Codes, symbol: number) => put(...codes[symbol]);
  return {
    code,
    /** A value behind a code that says how many bits it has, and in its upper half how many zeros came before. */
    number(codes: Codes, zeros: number, value: number): void {
      const length = 32 - Math.clz32(Math.abs(value));
      code(codes, (zeros << 4) | length);
      if (length > 0) put(length, value < 0 ? value + (1 << length) - 1 : value);
    },
    finish(): Buffer {
      if (count > 0) put(8 - count, 0xff >> count);
      return bytes.subarray(0, at);
    },
  };
}
