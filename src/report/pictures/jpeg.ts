/** JPEGs made smaller and turned upright: jpeg-js decodes and encodes, what is done between stands here. */
import jpegJs from 'jpeg-js';
import { viewOf } from '../../base/bytes.ts';

/** RGBA, a byte each, row by row. */
export interface Pixels {
  readonly width: number;
  readonly height: number;
  readonly data: Uint8Array;
}

/** Decoding takes some 20 bytes a pixel: a phone's 48 million would need a gigabyte. */
const MOST_MEGAPIXELS = 40;
const MOST_MEMORY_MB = 1024;

/** Width and height of any JPEG, from its frame header (ITU-T T.81, B.2.2); null where it has none. */
export function jpegSize(file: Uint8Array): { readonly width: number; readonly height: number } | null {
  const view = viewOf(file);
  for (let at = 2; at + 9 <= file.length && file[at] === 0xff; ) {
    const marker = view.getUint8(at + 1);
    // Start of frame of any kind: C0 to CF but for the three that hold tables.
    if (marker >= 0xc0 && marker <= 0xcf && ![0xc4, 0xc8, 0xcc].includes(marker)) {
      return { height: view.getUint16(at + 5), width: view.getUint16(at + 7) };
    }
    // A marker may be filled up with more FF.
    at += marker === 0xff ? 1 : 2 + view.getUint16(at + 2);
  }
  return null;
}

/** Null where it is damaged, of a rare kind, or too large to decode. */
export function readJpeg(file: Uint8Array): Pixels | null {
  try {
    return jpegJs.decode(file, {
      useTArray: true,
      tolerantDecoding: false,
      maxResolutionInMP: MOST_MEGAPIXELS,
      maxMemoryUsageInMB: MOST_MEMORY_MB,
    });
  } catch {
    return null;
  }
}

/** The same bytes for the same pixels. @param quality 1 to 100 */
export const writeJpeg = (pixels: Pixels, quality: number): Uint8Array => jpegJs.encode(pixels, quality).data;

/** Each square of `side` pixels becomes one, the mean of them. */
export function averaged({ width, height, data }: Pixels, side: number): Pixels {
  if (side === 1) return { width, height, data };
  const small = { width: Math.ceil(width / side), height: Math.ceil(height / side) };
  const mean = new Uint8Array(4 * small.width * small.height);
  for (let y = 0; y < small.height; y++) {
    const toY = Math.min((y + 1) * side, height);
    for (let x = 0; x < small.width; x++) {
      const toX = Math.min((x + 1) * side, width);
      const pixels = (toY - y * side) * (toX - x * side);
      for (let colour = 0; colour < 4; colour++) {
        let sum = 0;
        for (let v = y * side; v < toY; v++)
          for (let u = x * side; u < toX; u++) sum += data[4 * (v * width + u) + colour] ?? 0;
        mean[4 * (y * small.width + x) + colour] = Math.round(sum / pixels);
      }
    }
  }
  return { ...small, data: mean };
}

/** @param turned 1 to 8 as EXIF counts (tag 0x0112): 2 is mirrored, 3 upside down, 6 and 8 lie on their sides */
export function upright(pixels: Pixels, turned: number): Pixels {
  if (turned === 1) return pixels;
  const { width, height } = pixels;
  const isOnSide = turned >= 5;
  const [across, down] = isOnSide ? [height, width] : [width, height];
  const from = new Uint32Array(pixels.data.buffer, pixels.data.byteOffset, width * height);
  const data = new Uint32Array(width * height);
  for (let y = 0; y < down; y++) {
    for (let x = 0; x < across; x++) {
      const [u, v] = isOnSide ? [y, x] : [x, y];
      const fromX = [2, 3, 7, 8].includes(turned) ? width - 1 - u : u;
      const fromY = [3, 4, 6, 7].includes(turned) ? height - 1 - v : v;
      data[y * across + x] = from[fromY * width + fromX] ?? 0;
    }
  }
  return { width: across, height: down, data: new Uint8Array(data.buffer) };
}
