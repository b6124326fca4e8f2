/** Photos and logos from outside, made fit to stand inside a page: known kinds alone, and without what a camera adds. */

export interface Picture {
  readonly type: 'image/png' | 'image/jpeg' | 'image/svg+xml';
  readonly data: Buffer;
}

/** The picture as an address that holds it. In an `<img>` nothing of it runs or asks for anything. */
export const dataUri = ({ type, data }: Picture): string => `data:${type};base64,${data.toString('base64')}`;

/**
 * A PNG or JPEG with its pixels and no more: place, time, camera, previews and comments are left out. A JPEG keeps how it
 * is turned. Null for anything else, and for a file that is damaged.
 */
export function cleanPhoto(bytes: Uint8Array): Picture | null {
  const file = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const png = cleanPng(file);
  if (png) return { type: 'image/png', data: png };
  const jpeg = cleanJpeg(file);
  return jpeg && { type: 'image/jpeg', data: jpeg };
}

const PNG_SIGNATURE = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
/** What the pixels need; texts, times and EXIF are other chunks (PNG, third edition, 11). */
const PNG_KEPT: ReadonlySet<string> = new Set(['IHDR', 'PLTE', 'tRNS', 'sRGB', 'gAMA', 'cHRM', 'sBIT', 'IDAT', 'IEND']);

function cleanPng(file: Buffer): Buffer | null {
  if (!file.subarray(0, 8).equals(PNG_SIGNATURE)) return null;
  const kept: Buffer[] = [PNG_SIGNATURE];
  for (let at = 8; at + 12 <= file.length; ) {
    const end = at + 12 + file.readUInt32BE(at);
    const kind = file.toString('latin1', at + 4, at + 8);
    if (end > file.length) return null;
    if (at === 8 && kind !== 'IHDR') return null;
    if (PNG_KEPT.has(kind)) kept.push(file.subarray(at, end));
    if (kind === 'IEND') return Buffer.concat(kept);
    at = end;
  }
  return null;
}

const [SOI, EOI, SOS, COMMENT] = [0xd8, 0xd9, 0xda, 0xfe];
const EXIF = Buffer.from('Exif\0\0', 'latin1');

/** Segments up to the pixels (ITU-T T.81, B.1): application data but JFIF and Adobe's colour note, and comments, are dropped. */
function cleanJpeg(file: Buffer): Buffer | null {
  if (file.length < 4 || file[0] !== 0xff || file[1] !== SOI) return null;
  const kept: Buffer[] = [file.subarray(0, 2)];
  let turned = 1;
  for (let at = 2; at + 4 <= file.length; ) {
    if (file[at] !== 0xff) return null;
    const marker = file[at + 1];
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const end = at + 2 + file.readUInt16BE(at + 2);
    if (end > file.length || end < at + 4) return null;
    const segment = file.subarray(at, end);
    if (marker === 0xe1) turned = orientation(segment) ?? turned;
    if (marker === SOS) {
      // Within pixels a 0xFF is followed by 0 or a restart marker, so the next end is the picture's. What stands behind it
      // (a second picture, a film) goes too.
      const close = file.indexOf(Buffer.from([0xff, EOI]), end);
      const [start, ...rest] = kept;
      const held = turned === 1 ? [] : [exifOf(turned)];
      return close < 0 ? null : Buffer.concat([start, ...held, ...rest, file.subarray(at, close + 2)]);
    }
    const isDropped = marker === COMMENT || (marker > 0xe0 && marker < 0xf0 && marker !== 0xee);
    if (!isDropped) kept.push(segment);
    at = end;
  }
  return null;
}

/** How the camera was held, 1 to 8 (EXIF tag 0x0112), or null. */
function orientation(segment: Buffer): number | null {
  const tiff = segment.subarray(10);
  if (!segment.subarray(4, 10).equals(EXIF) || tiff.length < 8) return null;
  const isLittle = tiff.toString('latin1', 0, 2) === 'II';
  const u16 = (at: number) => (at + 2 > tiff.length ? 0 : isLittle ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at));
  const first = isLittle ? tiff.readUInt32LE(4) : tiff.readUInt32BE(4);
  for (let k = 0; k < u16(first); k++) {
    const entry = first + 2 + 12 * k;
    const value = u16(entry + 8);
    if (u16(entry) === 0x0112) return value >= 1 && value <= 8 ? value : null;
  }
  return null;
}

/** An EXIF segment that holds the orientation and nothing else. */
function exifOf(turned: number): Buffer {
  const tiff = Buffer.alloc(26);
  tiff.write('MM\0*', 'latin1');
  tiff.writeUInt32BE(8, 4);
  tiff.writeUInt16BE(1, 8);
  tiff.writeUInt16BE(0x0112, 10);
  tiff.writeUInt16BE(3, 12);
  tiff.writeUInt32BE(1, 14);
  tiff.writeUInt16BE(turned, 18);
  const head = Buffer.from([0xff, 0xe1, 0, 2 + EXIF.length + tiff.length]);
  return Buffer.concat([head, EXIF, tiff]);
}

/** Why an SVG is not taken as a logo, or null. In an `<img>` none of this would work; a picture that tries is not a logo. */
export function svgFault(text: string): string | null {
  if (!/^\s*(?:<\?xml[^>]*\?>\s*)?(?:<!--[\s\S]*?-->\s*)*<svg[\s>]/.test(text)) return 'it does not begin with <svg>';
  if (/<!DOCTYPE|<!ENTITY/i.test(text)) return 'it declares entities';
  if (/<\s*(?:\w+:)?(script|foreignObject|iframe|audio|video|use\s[^>]*href\s*=\s*["'](?!#))/i.test(text))
    return 'it holds scripts or foreign content';
  if (/\son\w+\s*=/i.test(text)) return 'it holds event handlers';
  if (/(?:href\s*=\s*["']|url\(\s*["']?)(?!\s*(?:#|data:image\/(?:png|jpeg)))/i.test(text))
    return 'it refers to something outside';
  return null;
}
