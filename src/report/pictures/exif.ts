/** The two things that a camera notes and a report needs: how it was held, and when. Everything else in EXIF is passed over. */
import { wallClockMs } from '../../base/time.ts';

export interface CameraNotes {
  /** 1 to 8 (tag 0x0112): 1 is upright. */
  readonly turned: number;
  /** What the camera's clock showed (tag 0x9003), ms, as if it were UTC; null where it is not written, or not a time. */
  readonly takenLocalMs: number | null;
}

const HEAD = Buffer.from('Exif\0\0', 'latin1');
const [ORIENTATION, CAMERA_DATA, TAKEN] = [0x0112, 0x8769, 0x9003];

/** @param body an application segment's content; null where it holds no EXIF. */
export function readExif(body: Buffer): CameraNotes | null {
  const tiff = body.subarray(HEAD.length);
  if (!body.subarray(0, HEAD.length).equals(HEAD) || tiff.length < 8) return null;
  const isLittle = tiff.toString('latin1', 0, 2) === 'II';
  const has = (at: number, bytes: number) => at >= 0 && at + bytes <= tiff.length;
  const u16 = (at: number) => (has(at, 2) ? (isLittle ? tiff.readUInt16LE(at) : tiff.readUInt16BE(at)) : 0);
  const u32 = (at: number) => (has(at, 4) ? (isLittle ? tiff.readUInt32LE(at) : tiff.readUInt32BE(at)) : 0);
  /** Where a tag's value, or the place of its value, stands in a directory. */
  const find = (directory: number, tag: number) => {
    for (let k = 0; k < u16(directory); k++) {
      const entry = directory + 2 + 12 * k;
      if (u16(entry) === tag) return entry + 8;
    }
    return null;
  };
  const first = u32(4);
  const turnedAt = find(first, ORIENTATION);
  const turned = turnedAt === null ? 1 : u16(turnedAt);
  const cameraAt = find(first, CAMERA_DATA);
  const takenAt = cameraAt === null ? null : find(u32(cameraAt), TAKEN);
  const text = takenAt === null ? '' : tiff.toString('latin1', u32(takenAt), u32(takenAt) + 19);
  return { turned: turned >= 1 && turned <= 8 ? turned : 1, takenLocalMs: takenMs(text) };
}

/** `2026:03:03 17:35:20`; cameras whose clock was never set write noughts or their own first day. */
function takenMs(text: string): number | null {
  const [year, ...rest] = /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)$/.exec(text)?.slice(1).map(Number) ?? [];
  const [month, day, hour, minute, second] = rest;
  return year >= 2000 && year <= 2100 ? (wallClockMs(year, month, day, hour, minute, second) ?? null) : null;
}

/** A segment that holds how the camera was held and nothing else. */
export function exifOf(turned: number): Buffer {
  const tiff = Buffer.alloc(26);
  tiff.write('MM\0*', 'latin1');
  tiff.writeUInt32BE(8, 4);
  tiff.writeUInt16BE(1, 8);
  tiff.writeUInt16BE(ORIENTATION, 10);
  tiff.writeUInt16BE(3, 12);
  tiff.writeUInt32BE(1, 14);
  tiff.writeUInt16BE(turned, 18);
  return Buffer.concat([Buffer.from([0xff, 0xe1, 0, 2 + HEAD.length + tiff.length]), HEAD, tiff]);
}
