/** Photos and logos from outside, made fit to stand inside a page: known kinds alone, without what a camera adds, and small. */
import { base64, joined, latin1, startsWith, viewOf } from '../../base/bytes.ts';
import { type CameraNotes, exifOf, readExif } from './exif.ts';
import { averaged, jpegSize, readJpeg, upright, writeJpeg } from './jpeg.ts';

export interface Picture {
  readonly type: 'image/png' | 'image/jpeg' | 'image/svg+xml';
  readonly data: Uint8Array;
}

export interface CleanPhoto extends Picture {
  readonly type: 'image/png' | 'image/jpeg';
  /** What the camera's clock showed, ms, as if it were UTC; null where the file does not say. */
  readonly takenLocalMs: number | null;
  /** How the camera was held, 1 to 8 as EXIF counts; `data` says it too. */
  readonly turned: number;
}

/** The picture as an address that holds it. In an `<img>` nothing of it runs or asks for anything. */
export const dataUri = ({ type, data }: Picture): string => `data:${type};base64,${base64(data)}`;

/**
 * A PNG or JPEG with its pixels and no more: place, time, camera, previews and comments are left out. A JPEG keeps how it
 * is turned. Null for anything else, and for a file that is damaged.
 */
export function cleanPhoto(bytes: Uint8Array): CleanPhoto | null {
  const png = cleanPng(bytes);
  if (png) return { type: 'image/png', data: png, takenLocalMs: null, turned: 1 };
  return cleanJpeg(bytes);
}

/** px: as long as a photo needs to be on paper and on a screen. */
const LONGEST_SIDE = 1300;
const QUALITIES = [80, 65, 50];
/** So many times are its sides halved, if need be. */
const HALVINGS = 3;

/**
 * The photo upright and in at most `mostBytes`: as it is where that will do, else drawn anew, smaller. Null where it stays
 * larger, or cannot be decoded.
 */
export function smallerPhoto(photo: CleanPhoto, mostBytes: number): CleanPhoto | null {
  const asItIs = photo.data.length <= mostBytes ? photo : null;
  const size = photo.type === 'image/jpeg' ? jpegSize(photo.data) : null;
  if (!size || (asItIs && photo.turned === 1)) return asItIs;
  const whole = readJpeg(photo.data);
  if (!whole) return asItIs;
  const least = Math.ceil(Math.max(size.width, size.height) / LONGEST_SIDE);
  for (let halved = 0; halved <= HALVINGS; halved++) {
    const pixels = upright(averaged(whole, least * 2 ** halved), photo.turned);
    for (const quality of QUALITIES) {
      const data = writeJpeg(pixels, quality);
      if (data.length <= mostBytes) return { ...photo, data, turned: 1 };
    }
  }
  return asItIs;
}

const PNG_SIGNATURE = Uint8Array.of(0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a);
/** What the pixels need; texts, times and EXIF are other chunks (PNG, third edition, 11). */
const PNG_KEPT: ReadonlySet<string> = new Set(['IHDR', 'PLTE', 'tRNS', 'sRGB', 'gAMA', 'cHRM', 'sBIT', 'IDAT', 'IEND']);

function cleanPng(file: Uint8Array): Uint8Array | null {
  if (!startsWith(file, PNG_SIGNATURE)) return null;
  const view = viewOf(file);
  const kept: Uint8Array[] = [PNG_SIGNATURE];
  for (let at = 8; at + 12 <= file.length; ) {
    const end = at + 12 + view.getUint32(at);
    const kind = latin1(file.subarray(at + 4, at + 8));
    if (end > file.length) return null;
    if (at === 8 && kind !== 'IHDR') return null;
    if (PNG_KEPT.has(kind)) kept.push(file.subarray(at, end));
    if (kind === 'IEND') return joined(kept);
    at = end;
  }
  return null;
}

const [SOI, EOI, SOS, COMMENT] = [0xd8, 0xd9, 0xda, 0xfe];

/** Segments up to the pixels (ITU-T T.81, B.1): application data but JFIF and Adobe's colour note, and comments, are dropped. */
function cleanJpeg(file: Uint8Array): CleanPhoto | null {
  if (file.length < 4 || file[0] !== 0xff || file[1] !== SOI) return null;
  const view = viewOf(file);
  const start = file.subarray(0, 2);
  const kept: Uint8Array[] = [];
  let notes: CameraNotes = { turned: 1, takenLocalMs: null };
  for (let at = 2; at + 4 <= file.length; ) {
    if (file[at] !== 0xff) return null;
    const marker = view.getUint8(at + 1);
    if (marker === 0xff) {
      at += 1;
      continue;
    }
    const end = at + 2 + view.getUint16(at + 2);
    if (end > file.length || end < at + 4) return null;
    const segment = file.subarray(at, end);
    if (marker === 0xe1) notes = readExif(segment.subarray(4)) ?? notes;
    if (marker === SOS) {
      // Within pixels a 0xFF is followed by 0 or a restart marker, so the next end is the picture's. What stands behind it
      // (a second picture, a film) goes too.
      const close = endOfPixels(file, end);
      if (close < 0) return null;
      const held = notes.turned === 1 ? [] : [exifOf(notes.turned)];
      const data = joined([start, ...held, ...kept, file.subarray(at, close + 2)]);
      return { type: 'image/jpeg', data, ...notes };
    }
    const isDropped = marker === COMMENT || (marker > 0xe0 && marker < 0xf0 && marker !== 0xee);
    if (!isDropped) kept.push(segment);
    at = end;
  }
  return null;
}

function endOfPixels(file: Uint8Array, from: number): number {
  for (let at = file.indexOf(0xff, from); at >= 0; at = file.indexOf(0xff, at + 1)) if (file[at + 1] === EOI) return at;
  return -1;
}

/** Why an SVG is not taken as a logo, or null. In an `<img>` none of this would work; a picture that tries is not a logo. */
export function svgFault(written: string): string | null {
  const text = written.replaceAll(/&#(?:x([0-9a-f]{1,6})|(\d{1,7}));/gi, (whole, hex?: string, decimal?: string) => {
    const point = hex ? Number.parseInt(hex, 16) : Number(decimal);
    return point <= 0x10ffff ? String.fromCodePoint(point) : whole;
  });
  // Styles may write any letter as one.
  if (text.includes('\\')) return 'it hides letters behind backslashes';
  if (!/^\s*(?:<\?xml[^>]*\?>\s*)?(?:<!--[\s\S]*?-->\s*)*<svg[\s>]/.test(text)) return 'it does not begin with <svg>';
  if (/<!DOCTYPE|<!ENTITY/i.test(text)) return 'it declares entities';
  if (/<\s*(?:\w+:)?(script|foreignObject|iframe|audio|video|use\s[^>]*href\s*=\s*["'](?!#))/i.test(text))
    return 'it holds scripts or foreign content';
  if (/\son\w+\s*=/i.test(text)) return 'it holds event handlers';
  if (/@import|xml:base|<\?(?!xml\s)|\b(?:image|image-set|src)\(/i.test(text)) return 'it refers to something outside';
  if (/attributeName\s*=\s*["']?\s*(?:\w+:)?(?:href|on\w+|style)/i.test(text)) return 'it changes where it refers to';
  if (/(?:href\s*=\s*["']|url\(\s*["']?)(?!\s*(?:#|data:image\/(?:png|jpeg)))/i.test(text))
    return 'it refers to something outside';
  return null;
}
