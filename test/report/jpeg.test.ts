import { describe, expect, it } from 'vitest';
import { jpegSize, type Plane, readJpeg, type Side } from '../../src/report/jpeg-read.ts';
import { HUFFMAN, ZIGZAG } from '../../src/report/jpeg-tables.ts';
import { upright } from '../../src/report/jpeg-turn.ts';
import { writeJpeg } from '../../src/report/jpeg-write.ts';

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

/** Largest difference between two pictures where both have pixels. */
function difference(plane: Plane, width: number, height: number, wanted: (x: number, y: number) => number): number {
  let worst = 0;
  for (let y = 0; y < height; y++)
    for (let x = 0; x < width; x++) worst = Math.max(worst, Math.abs(plane.data[y * plane.width + x] - wanted(x, y)));
  return worst;
}

describe('a JPEG of another encoder', () => {
  it('tells its size', () => expect(jpegSize(SLOPE)).toEqual({ width: 24, height: 40 }));

  it.each([1, 2, 4, 8] as const)('is read with %i pixels a side for each block', (side) => {
    const read = readJpeg(SLOPE, side);
    expect(read).toMatchObject({ width: 3 * side, height: 5 * side });
    expect(read?.planes.map(({ across, down }) => [across, down])).toEqual([
      [2, 2],
      [1, 1],
      [1, 1],
    ]);
    // A pixel of the smaller picture stands for 8 / side columns of the whole one.
    const centre = (x: number) => ((x + 0.5) * 8) / side - 0.5;
    const [plane] = read?.planes ?? [];
    expect(difference(plane, 3 * side, 5 * side, (x) => slopeAt(centre(x)))).toBeLessThan(4);
  });

  it.each([
    ['cut off', SLOPE.subarray(0, SLOPE.length - 40)],
    ['without its codes', Buffer.from(SLOPE.toString('latin1').replaceAll('\xff\xc4', '\xff\xef'), 'latin1')],
    ['progressive', Buffer.from(SLOPE.toString('latin1').replace('\xff\xc0', '\xff\xc2'), 'latin1')],
    ['no JPEG', Buffer.from('not a picture at all')],
  ])('is not read where it is %s', (_what, file) => expect(readJpeg(file, 1)).toBeNull());

  it('of any damage gives planes or null, and comes to an end', () => {
    for (let at = 2; at < SLOPE.length; at++) {
      for (const byte of [0, 0x7f, 0xff]) {
        const damaged = Buffer.from(SLOPE);
        damaged[at] = byte;
        const read = readJpeg(damaged, 1);
        if (read) expect(read.planes.length, `byte ${at} = ${byte}`).toBeGreaterThan(0);
      }
    }
  });
});

describe('a JPEG of ours', () => {
  /** Odd edges, and colours at half the resolution across. */
  const [width, height] = [45, 19];
  const wave = (x: number, y: number) => Math.round(128 + 70 * Math.sin(x / 5) + 40 * Math.cos(y / 3));
  const plane = (id: number, across: number, w: number, value: (x: number, y: number) => number): Plane => ({
    id,
    across,
    down: 1,
    width: w,
    height,
    data: Uint8ClampedArray.from({ length: w * height }, (_, k) => value(k % w, Math.floor(k / w))),
  });
  const planes = [plane(1, 2, width, wave), plane(2, 1, 23, () => 90), plane(3, 1, 23, (x) => 100 + x)];

  it('holds what was put in', () => {
    const read = readJpeg(writeJpeg({ width, height, planes, heads: [] }, 95), 8);
    expect(read).toMatchObject({ width, height });
    expect(difference(read?.planes[0] as Plane, width, height, wave)).toBeLessThan(8);
    expect(difference(read?.planes[1] as Plane, 23, height, () => 90)).toBeLessThan(3);
  });

  it('is smaller the lower its quality, and the same each time', () => {
    const written = [90, 70, 40, 90].map((quality) => writeJpeg({ width, height, planes, heads: [] }, quality));
    expect(written[1].length).toBeLessThan(written[0].length);
    expect(written[2].length).toBeLessThan(written[1].length);
    expect(written[3]).toEqual(written[0]);
  });

  it.each([1, 2, 8] as Side[])('of one colour is of that colour at %i pixels a side', (side) => {
    const grey = [plane(1, 1, width, () => 200)];
    const read = readJpeg(writeJpeg({ width, height, planes: grey, heads: [] }, 80), side);
    const { width: w, height: h } = read ?? { width: 0, height: 0 };
    expect(w).toBe(Math.ceil((width * side) / 8));
    expect(difference(read?.planes[0] as Plane, w, h, () => 200)).toBeLessThan(3);
  });
});

describe('a picture that the camera took lying or mirrored', () => {
  /** A picture of 3 × 2 with filling at its right, and what it shows upright (EXIF 2.3, tag 0x0112, from memory). */
  const plane = { id: 1, across: 2, down: 1, width: 4, height: 2 };
  const data = Uint8ClampedArray.from([1, 2, 3, 0, 4, 5, 6, 0]);
  const head = Buffer.from([0xff, 0xe1, 0, 2]);
  const picture = { width: 3, height: 2, planes: [{ ...plane, data }], heads: [head, Buffer.from([0xff, 0xe0, 0, 2])] };
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
    const { planes, heads, ...size } = upright(picture, turned);
    expect(size).toEqual({ width, height: 6 / width });
    expect(planes[0]).toMatchObject({ width, across: width === 2 ? 1 : 2, down: width === 2 ? 2 : 1 });
    expect([...planes[0].data]).toEqual(wanted);
    expect(heads).toHaveLength(1);
  });
});

it('the published tables are whole', () => {
  expect(HUFFMAN.ac.counts.reduce((sum, count) => sum + count, 0)).toBe(162);
  expect(new Set(HUFFMAN.ac.symbols).size).toBe(162);
  // The beginning and the end of the path through a block (ITU-T T.81, Figure A.6).
  expect(ZIGZAG.slice(0, 10)).toEqual([0, 1, 8, 16, 9, 2, 3, 10, 17, 24]);
  expect(ZIGZAG.slice(-4)).toEqual([47, 55, 62, 63]);
});
