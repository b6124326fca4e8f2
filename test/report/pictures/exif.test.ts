import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { latin1Bytes } from '../../../src/base/bytes.ts';
import { exifOf, readExif } from '../../../src/report/pictures/exif.ts';

/**
 * A segment by the TIFF 6.0 specification, section 2 (byte order, 42, place of the first directory; entries of tag, type,
 * count, value), with the tags of CIPA DC-008 (EXIF 2.3): 0x0112 orientation, 0x8769 the camera's own directory, 0x9003
 * when the picture was taken. From memory.
 */
function segment(isLittle: boolean, turned: number, taken: string): Uint8Array {
  const bytes = new Uint8Array(6 + 70);
  bytes.set(latin1Bytes('Exif\0\0'));
  bytes.set(latin1Bytes(isLittle ? 'II*\0' : 'MM\0*'), 6);
  const view = new DataView(bytes.buffer, 6);
  const entry = (at: number, tag: number, type: number, count: number, value: number) => {
    view.setUint16(at, tag, isLittle);
    view.setUint16(at + 2, type, isLittle);
    view.setUint32(at + 4, count, isLittle);
    if (type === 3) view.setUint16(at + 8, value, isLittle);
    else view.setUint32(at + 8, value, isLittle);
  };
  view.setUint32(4, 8, isLittle);
  view.setUint16(8, 2, isLittle);
  entry(10, 0x0112, 3, 1, turned);
  entry(22, 0x8769, 4, 1, 34);
  view.setUint16(34, 1, isLittle);
  entry(36, 0x9003, 2, 20, 50);
  bytes.set(latin1Bytes(taken), 6 + 50);
  return bytes;
}

describe('notes of a camera', () => {
  it.each([true, false])('are read in either order of bytes (little end first: %s)', (isLittle) => {
    const notes = readExif(segment(isLittle, 6, '2026:03:03 17:35:20'));
    expect(notes).toEqual({ turned: 6, takenLocalMs: Date.UTC(2026, 2, 3, 17, 35, 20) });
  });
  it('count as upright and undated where they cannot be', () => {
    for (const taken of ['0000:00:00 00:00:00', '2026:13:40 27:00:00', '    :  :     :  :  '])
      expect(readExif(segment(true, 9, taken))).toEqual({ turned: 1, takenLocalMs: null });
  });
  it('are read back from what is written', () => {
    for (const turned of [1, 3, 8]) {
      // Marker and length come before the content.
      expect(readExif(exifOf(turned).subarray(4))).toEqual({ turned, takenLocalMs: null });
    }
  });
  it('of any damage are notes or null: directories that point past the end, at themselves or nowhere', () => {
    const place = fc.record({ at: fc.nat(75), byte: fc.nat(255) });
    const damaged = fc.property(
      fc.boolean(),
      fc.array(place, { maxLength: 24 }),
      fc.nat(76),
      (isLittle, places, end) => {
        const bytes = segment(isLittle, 6, '2026:03:03 17:35:20');
        for (const { at, byte } of places) bytes[at] = byte;
        const notes = readExif(bytes.subarray(0, end));
        if (notes === null) return;
        expect(notes.turned).toBeGreaterThanOrEqual(1);
        expect(notes.turned).toBeLessThanOrEqual(8);
        expect(notes.takenLocalMs === null || Number.isFinite(notes.takenLocalMs)).toBe(true);
      },
    );
    fc.assert(damaged, { numRuns: 5000 });
  });
});
