import { describe, expect, it } from 'vitest';
import { averaged, jpegSize, type Pixels, readJpeg, upright, writeJpeg } from '../../../src/report/pictures/jpeg.ts';

/**
 * By another encoder: 24 × 40 pixels, from #e0c090 on the left to #204060 on the right, colours at half the resolution, a
 * restart marker every two units.
 */
const SLOPE = Buffer.from(
  '/9j/4AAQSkZJRgABAQAAAQABAAD/2wBDAAMCAgMCAgMDAwMEAwMEBQgFBQQEBQoHBwYIDAoMDAsKCwsNDhIQDQ4RDgsLEBYQERMUFRUVDA8XGB' +
    'YUGBIUFRT/2wBDAQMEBAUEBQkFBQkUDQsNFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBQUFBT/wAARCAAo' +
    'ABgDASIAAhEBAxEB/8QAFwABAQEBAAAAAAAAAAAAAAAAAAgJB//EABYQAQEBAAAAAAAAAAAAAAAAAAAGQ//EABYBAQEBAAAAAAAAAAAAAAAAAA' +
    'YHBf/EABsRAAEEAwAAAAAAAAAAAAAAAAABAwRBBTIz/9oADAMBAAIRAxEAPwDvtton+20UBbaJ/ttB3FUak+yf7bQLbQVCNzQAP7qaAW2if7bR' +
    'QFton+20S/FUP59k/wBtoFtoKhG5oAH91NALbRP9toCX4qh/Psn+20AVCNzQAP7qf//Z',
  'base64',
);
/** Brightness as JFIF defines it (ITU-R BT.601), which falls evenly from the first column to the last. */
const brightness = ([r, g, b]: readonly number[]) => 0.299 * r + 0.587 * g + 0.114 * b;
const [LEFT, RIGHT] = [brightness([0xe0, 0xc0, 0x90]), brightness([0x20, 0x40, 0x60])];
const slopeAt = (x: number) => LEFT + ((RIGHT - LEFT) * x) / 23;

describe('a JPEG of another encoder', () => {
  it('tells its size', () => expect(jpegSize(SLOPE)).toEqual({ width: 24, height: 40 }));

  it.each([1, 2, 4, 8])('is read, and %i pixels a side make one', (side) => {
    const read = readJpeg(SLOPE);
    const { width, height, data } = averaged(read as Pixels, side);
    expect([width, height]).toEqual([24 / side, 40 / side]);
    for (let k = 0; k < width * height; k++) {
      // A pixel of the smaller picture stands for `side` columns of the whole one.
      const centre = ((k % width) + 0.5) * side - 0.5;
      expect(Math.abs(brightness([...data.subarray(4 * k, 4 * k + 3)]) - slopeAt(centre))).toBeLessThan(4);
    }
  });

  it.each([
    ['without its codes', Buffer.from(SLOPE.toString('latin1').replaceAll('\xff\xc4', '\xff\xef'), 'latin1')],
    ['no JPEG', Buffer.from('not a picture at all')],
    ['larger than is decoded', enlarged(SLOPE, 0xffff)],
  ])('is not read where it is %s', (_what, file) => expect(readJpeg(file)).toBeNull());

  it('of any damage gives pixels or null, and comes to an end', () => {
    for (let at = 2; at < SLOPE.length; at++) {
      for (const byte of [0, 0x7f, 0xff]) {
        const damaged = Buffer.from(SLOPE);
        damaged[at] = byte;
        const read = readJpeg(damaged);
        if (read) expect(read.data, `byte ${at} = ${byte}`).toHaveLength(4 * read.width * read.height);
        jpegSize(damaged);
      }
    }
  });
});

/** A file that claims to be so many pixels wide and high. */
function enlarged(file: Buffer, side: number): Buffer {
  const claims = Buffer.from(file);
  const frame = claims.indexOf(Buffer.from([0xff, 0xc0]));
  claims.writeUInt16BE(side, frame + 5);
  claims.writeUInt16BE(side, frame + 7);
  return claims;
}

describe('a picture made smaller', () => {
  it('has the mean at its edges too, of what is there', () => {
    const grey = (...values: number[]) => Uint8Array.from(values.flatMap((value) => [value, value, value, 255]));
    const small = averaged({ width: 3, height: 1, data: grey(10, 20, 200) }, 2);
    expect(small).toEqual({ width: 2, height: 1, data: grey(15, 200) });
  });

  it('is smaller the lower its quality, and the same each time', () => {
    const [width, height] = [45, 19];
    const data = Uint8Array.from({ length: 4 * width * height }, (_, k) => 128 + 100 * Math.sin(k * k));
    const written = [90, 70, 40, 90].map((quality) => writeJpeg({ width, height, data }, quality));
    expect(written[1].length).toBeLessThan(written[0].length);
    expect(written[2].length).toBeLessThan(written[1].length);
    expect(written[3]).toEqual(written[0]);
    expect(jpegSize(written[0])).toEqual({ width, height });
  });
});

describe('a picture that the camera took lying or mirrored', () => {
  /** A picture of 3 × 2, and what it shows upright (EXIF 2.3, tag 0x0112, from memory). */
  const data = Uint8Array.from([1, 2, 3, 4, 5, 6].flatMap((value) => [value, 0, 0, 255]));
  it.each([
    [1, 3, [1, 2, 3, 4, 5, 6]],
    [2, 3, [3, 2, 1, 6, 5, 4]],
    [3, 3, [6, 5, 4, 3, 2, 1]],
    [4, 3, [4, 5, 6, 1, 2, 3]],
    [5, 2, [1, 4, 2, 5, 3, 6]],
    [6, 2, [4, 1, 5, 2, 6, 3]],
    [7, 2, [6, 3, 5, 2, 4, 1]],
    [8, 2, [3, 6, 2, 5, 1, 4]],
  ])('%i stands upright', (turned, width, wanted) => {
    const turnedBack = upright({ width: 3, height: 2, data }, turned);
    expect(turnedBack).toMatchObject({ width, height: 6 / width });
    expect([...turnedBack.data].filter((_, k) => k % 4 === 0)).toEqual(wanted);
  });
});
