/** The two things that a camera notes and a report needs: how it was held, and when. Everything else in EXIF is passed over. */
import { joined, latin1, latin1Bytes, startsWith, viewOf } from '../../base/bytes.ts';
import { wallClockMs } from '../../base/time.ts';

export interface CameraNotes {
  /** 1 to 8 (tag 0x0112): 1 is upright. */
  readonly turned: number;
  /** What the camera's clock showed (tag 0x9003), ms, as if it were UTC; null where it is not written, or not a time. */
  readonly takenLocalMs: number | null;
}

const HEAD = latin1Bytes('Exif\0\0');
const [ORIENTATION, CAMERA_DATA, TAKEN] = [0x0112, 0x8769, 0x9003];

/** @param body an application segment's content; null where it holds no EXIF. */
export function readExif(body: Uint8Array): CameraNotes | null {
  const tiff = body.subarray(HEAD.length);
  if (!startsWith(body, HEAD) || tiff.length < 8) return null;
  const view = viewOf(tiff);
  const isLittle = latin1(tiff.subarray(0, 2)) === 'II';
  const has = (at: number, bytes: number) => at >= 0 && at + bytes <= tiff.length;
  const u16 = (at: number) => (has(at, 2) ? view.getUint16(at, isLittle) : 0);
  const u32 = (at: number) => (has(at, 4) ? view.getUint32(at, isLittle) : 0);
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
  const text = takenAt === null ? '' : latin1(tiff.subarray(u32(takenAt), u32(takenAt) + 19));
  return { turned: turned >= 1 && turned <= 8 ? turned : 1, takenLocalMs: takenMs(text) };
}

/** `2026:03:03 17:35:20`; cameras whose clock was never set write noughts or their own first day. */
function takenMs(text: string): number | null {
  const [, year = 0, month = 0, day = 0, hour = 0, minute = 0, second = 0] =
    /^(\d{4}):(\d\d):(\d\d) (\d\d):(\d\d):(\d\d)$/.exec(text)?.map(Number) ?? [];
  return year >= 2000 && year <= 2100 ? (wallClockMs(year, month, day, hour, minute, second) ?? null) : null;
}

/** A segment that holds how the camera was held and nothing else. */
export function exifOf(turned: number): Uint8Array {
  const tiff = new Uint8Array(26);
  tiff.set(latin1Bytes('MM\0*'));
  const view = viewOf(tiff);
  view.setUint32(4, 8);
  view.setUint16(8, 1);
  view.setUint16(10, ORIENTATION);
  view.setUint16(12, 3);
  view.setUint32(14, 1);
  view.setUint16(18, turned);
  return joined([Uint8Array.of(0xff, 0xe1, 0, 2 + HEAD.length + tiff.length), HEAD, tiff]);
}
