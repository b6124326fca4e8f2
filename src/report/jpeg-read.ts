/**
 * Reads a JPEG at a fraction of its size: of each block of 8 × 8 pixels only the low frequencies are turned back, into
 * 1, 2, 4 or 8 pixels a side. So a camera's photo never stands in memory whole. Baseline JPEG with Huffman codes
 * (ITU-T T.81, 4.11), which is what cameras write.
 */
import { cosines, type HuffmanTable, ZIGZAG } from './jpeg-tables.ts';

/** One component: brightness or a colour, each in its own resolution. `width` and `height` include the filling at the edges. */
export interface Plane {
  readonly id: number;
  /** Blocks across and down in each of the picture's units. */
  readonly across: number;
  readonly down: number;
  readonly width: number;
  readonly height: number;
  readonly data: Uint8ClampedArray;
}

export interface Planes {
  readonly width: number;
  readonly height: number;
  readonly planes: readonly Plane[];
  /** Application segments as they stand in the file, which say what the planes mean. */
  readonly heads: readonly Buffer[];
}

/** Pixels a side that a block becomes. */
export type Side = 1 | 2 | 4 | 8;

const MOST_PIXELS = 150e6;

interface Frame {
  readonly width: number;
  readonly height: number;
  readonly parts: readonly {
    readonly id: number;
    readonly across: number;
    readonly down: number;
    readonly table: number;
  }[];
}

/** Width and height in pixels, of any JPEG; null where the file does not say. */
export function jpegSize(file: Buffer): { readonly width: number; readonly height: number } | null {
  for (const [marker, body] of segments(file)) if (isFrame(marker) && body.length > 8) return sizeOf(body);
  return null;
}

/** Null for any other kind of JPEG (progressive, arithmetic, 12 bit), and for one that is damaged or cut off. */
export function readJpeg(file: Buffer, side: Side): Planes | null {
  const coarseness = new Map<number, Uint16Array>();
  const codes = new Map<number, Uint16Array>();
  const heads: Buffer[] = [];
  let [frame, restart]: [Frame | null, number] = [null, 0];
  for (const [marker, body, end] of segments(file)) {
    if (marker >= 0xe0 && marker <= 0xef) heads.push(file.subarray(end - body.length - 4, end));
    else if (marker === 0xdb) readCoarseness(body, coarseness);
    else if (marker === 0xc4) readCodes(body, codes);
    else if (marker === 0xdd) restart = body.readUInt16BE(0);
    else if (isFrame(marker)) frame = marker <= 0xc1 && body[0] === 8 ? frameOf(body) : null;
    else if (marker === 0xda) {
      const scan = frame && scanOf(body, frame, coarseness, codes);
      const planes = frame && scan && readScan(file, end, frame, scan, restart, side);
      if (!frame || !planes) return null;
      const scaled = (length: number) => Math.ceil((length * side) / 8);
      return { width: scaled(frame.width), height: scaled(frame.height), planes, heads };
    }
  }
  return null;
}

/** Marker, content and end of each segment up to the pixels. */
function* segments(file: Buffer): Generator<[marker: number, body: Buffer, end: number]> {
  for (let at = 2; at + 4 <= file.length && file[at] === 0xff; ) {
    const marker = file[at + 1];
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const end = at + 2 + file.readUInt16BE(at + 2);
    if (end > file.length || end < at + 4) return;
    yield [marker, file.subarray(at + 4, end), end];
    at = end;
  }
}

/** Start of frame of any kind: C0 to CF but for the three that hold tables. */
const isFrame = (marker: number) => marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker);
const sizeOf = (body: Buffer) => ({ height: body.readUInt16BE(1), width: body.readUInt16BE(3) });

function frameOf(body: Buffer): Frame | null {
  const count = body[5];
  if (body.length < 6 + 3 * count || count < 1 || count > 4) return null;
  const parts = Array.from({ length: count }, (_, k) => {
    const [id, sampling, table] = body.subarray(6 + 3 * k);
    return { id, across: sampling >> 4, down: sampling & 15, table };
  });
  const { width, height } = sizeOf(body);
  const isSound = parts.every(({ across, down }) => across >= 1 && across <= 4 && down >= 1 && down <= 4);
  return isSound && width > 0 && height > 0 && width * height <= MOST_PIXELS ? { width, height, parts } : null;
}

function readCoarseness(body: Buffer, tables: Map<number, Uint16Array>): void {
  for (let at = 0; at < body.length; ) {
    const isWide = body[at] >> 4 !== 0;
    const id = body[at] & 15;
    const values = body.subarray(at + 1, at + (isWide ? 129 : 65));
    at += 1 + values.length;
    if (values.length !== (isWide ? 128 : 64)) return;
    tables.set(
      id,
      Uint16Array.from({ length: 64 }, (_, k) => (isWide ? values.readUInt16BE(2 * k) : values[k])),
    );
  }
}

function readCodes(body: Buffer, tables: Map<number, Uint16Array>): void {
  for (let at = 0; at + 17 <= body.length; ) {
    const id = body[at];
    const counts = body.subarray(at + 1, at + 17);
    const total = counts.reduce((sum, count) => sum + count, 0);
    const symbols = body.subarray(at + 17, at + 17 + total);
    at += 17 + total;
    if (symbols.length === total) tables.set(id, lookup({ counts, symbols }));
  }
}

/** For every 16 bits that may come next: length of the code that they begin with, and its symbol; 0 where there is none. */
function lookup({ counts, symbols }: HuffmanTable): Uint16Array {
  const table = new Uint16Array(1 << 16);
  let [at, k] = [0, 0];
  for (let length = 1; length <= 16; length++) {
    for (let n = 0; n < counts[length - 1]; n++) {
      const next = at + (1 << (16 - length));
      table.fill((length << 8) | symbols[k], at, next);
      at = next;
      k += 1;
    }
  }
  return table;
}

interface Coding {
  readonly coarseness: Uint16Array;
  readonly dc: Uint16Array;
  readonly ac: Uint16Array;
}

/** What each component is coded with; null where a table is missing, or not all components come in one scan. */
function scanOf(
  body: Buffer,
  frame: Frame,
  coarseness: ReadonlyMap<number, Uint16Array>,
  codes: ReadonlyMap<number, Uint16Array>,
): Coding[] | null {
  if (body[0] !== frame.parts.length || body.length < 1 + 2 * body[0]) return null;
  const found = frame.parts.map((part, k) => {
    const [id, tables] = body.subarray(1 + 2 * k);
    const [steps, dc, ac] = [coarseness.get(part.table), codes.get(tables >> 4), codes.get(0x10 | (tables & 15))];
    return id === part.id && steps && dc && ac ? { coarseness: steps, dc, ac } : null;
  });
  return found.every((one) => one !== null) ? found : null;
}

function readScan(
  file: Buffer,
  start: number,
  { width, height, parts }: Frame,
  scan: readonly Coding[],
  restart: number,
  side: Side,
): Plane[] | null {
  // A single component comes block by block, whatever its sampling says (A.2.2).
  const laid = parts.length === 1 ? [{ ...parts[0], across: 1, down: 1 }] : parts;
  const unitsAcross = Math.ceil(width / (8 * Math.max(...laid.map(({ across }) => across))));
  const unitsDown = Math.ceil(height / (8 * Math.max(...laid.map(({ down }) => down))));
  const planes = laid.map(({ id, across, down }) => {
    const size = { width: unitsAcross * across * side, height: unitsDown * down * side };
    return { id, across, down, ...size, data: new Uint8ClampedArray(size.width * size.height) };
  });
  const bits = bitsOf(file, start);
  const block = blockReader(bits, side);
  const before = new Int32Array(planes.length);
  for (let unit = 0; unit < unitsAcross * unitsDown; unit++) {
    if (restart > 0 && unit > 0 && unit % restart === 0) {
      if (!bits.restart()) return null;
      before.fill(0);
    }
    for (const [k, plane] of planes.entries()) {
      const [left, top] = [(unit % unitsAcross) * plane.across, Math.floor(unit / unitsAcross) * plane.down];
      for (let n = 0; n < plane.across * plane.down; n++) {
        before[k] += block.read(scan[k], before[k]);
        block.draw(plane, (left + (n % plane.across)) * side, (top + Math.floor(n / plane.across)) * side);
      }
    }
    if (bits.isSpent()) return null;
  }
  return planes;
}

/** The scan's bits without the zero bytes stuffed into them; behind its end come zeros, which `isSpent` tells. */
function bitsOf(file: Buffer, start: number) {
  let [at, held, count, missing] = [start, 0, 0, 0];
  const fill = () => {
    while (count <= 16) {
      let byte = at < file.length ? file[at] : 0xff;
      if (byte !== 0xff) at += 1;
      else if (file[at + 1] === 0) at += 2;
      else {
        byte = 0;
        missing += 1;
      }
      held = (held << 8) | byte;
      count += 8;
    }
  };
  return {
    /** Symbol of the next code. */
    symbol(table: Uint16Array): number {
      fill();
      const found = table[(held >>> (count - 16)) & 0xffff];
      // No code begins so: the file is damaged, and is read on to where that shows.
      count -= found >> 8 || 16;
      return found & 0xff;
    },
    /** A number of `length` bits, 0 to 16, of which the first tells the sign (F.2.2.1). */
    number(length: number): number {
      if (length === 0) return 0;
      fill();
      count -= length;
      const value = (held >>> count) & ((1 << length) - 1);
      return value < 1 << (length - 1) ? value - (1 << length) + 1 : value;
    },
    /** Steps over a restart marker; false where none stands here. */
    restart(): boolean {
      [held, count, missing] = [0, 0, 0];
      if (file[at] !== 0xff || (file[at + 1] & 0xf8) !== 0xd0) return false;
      at += 2;
      return true;
    },
    /** More was taken than there is; a few bytes are looked at ahead. */
    isSpent: () => missing > 4,
  };
}

function blockReader(bits: ReturnType<typeof bitsOf>, side: Side) {
  const basis = cosines(side);
  const kept = new Float64Array(side * side);
  const half = new Float64Array(side * side);
  /** Where a coefficient goes among those kept, -1 for the finer ones. */
  const place = ZIGZAG.map((at) => (at >> 3 < side && (at & 7) < side ? (at >> 3) * side + (at & 7) : -1));
  // Both transforms are orthonormal: the mean keeps its value when it counts for `side` times as many pixels.
  const scale = side / 8;

  return {
    /** Reads a block's coefficients; returns by how much its mean differs from the one before, in steps. */
    read({ dc, ac, coarseness }: Coding, before: number): number {
      kept.fill(0);
      const change = bits.number(bits.symbol(dc) & 15);
      kept[0] = (before + change) * coarseness[0] * scale;
      for (let k = 1; k < 64; k++) {
        const symbol = bits.symbol(ac);
        const length = symbol & 15;
        if (length === 0 && symbol !== 0xf0) break;
        k += symbol >> 4;
        const value = bits.number(length);
        if (k < 64 && place[k] >= 0) kept[place[k]] = value * coarseness[k] * scale;
      }
      return change;
    },
    draw({ data, width }: Plane, left: number, top: number): void {
      for (let v = 0; v < side; v++)
        for (let x = 0; x < side; x++) {
          let sum = 0;
          for (let u = 0; u < side; u++) sum += basis[x * side + u] * kept[v * side + u];
          half[v * side + x] = sum;
        }
      for (let y = 0; y < side; y++)
        for (let x = 0; x < side; x++) {
          let sum = 128;
          for (let v = 0; v < side; v++) sum += basis[y * side + v] * half[v * side + x];
          data[(top + y) * width + left + x] = sum;
        }
    },
  };
}
