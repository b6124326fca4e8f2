import { describe, expect, it } from 'vitest';
import { cleanPhoto, dataUri, svgFault } from '../../../src/report/pictures/picture.ts';

const SECRET = 'N 53.3 W 6.2, taken by somebody';

/** Without Node's own type, which equality minds. */
const plain = (bytes: Buffer) => Uint8Array.from(bytes);
const chunk = (kind: string, data: Buffer | string) => {
  const length = Buffer.alloc(4);
  length.writeUInt32BE(Buffer.byteLength(data));
  return Buffer.concat([length, Buffer.from(kind), Buffer.from(data), Buffer.alloc(4)]);
};
const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
const png = (...extra: Buffer[]) =>
  Buffer.concat([signature, chunk('IHDR', Buffer.alloc(13)), ...extra, chunk('IDAT', 'pixels'), chunk('IEND', '')]);

const segment = (marker: number, data: Buffer | string) => {
  const body = Buffer.from(data);
  return Buffer.concat([Buffer.from([0xff, marker, (body.length + 2) >> 8, (body.length + 2) & 255]), body]);
};
/** EXIF with an orientation, in either byte order, and a secret behind it. */
function exif(turned: number, isLittle: boolean): Buffer {
  const tiff = Buffer.alloc(26);
  tiff.write(isLittle ? 'II*\0' : 'MM\0*', 'latin1');
  const u16 = (value: number, at: number) => (isLittle ? tiff.writeUInt16LE(value, at) : tiff.writeUInt16BE(value, at));
  const u32 = (value: number, at: number) => (isLittle ? tiff.writeUInt32LE(value, at) : tiff.writeUInt32BE(value, at));
  u32(8, 4);
  u16(1, 8);
  u16(0x0112, 10);
  u16(3, 12);
  u32(1, 14);
  u16(turned, 18);
  return segment(0xe1, Buffer.concat([Buffer.from('Exif\0\0'), tiff, Buffer.from(SECRET)]));
}
const PIXELS = Buffer.concat([segment(0xda, 'scan'), Buffer.from([1, 2, 0xff, 0, 3, 0xff, 0xd9])]);
const jpeg = (...extra: Buffer[]) =>
  Buffer.concat([Buffer.from([0xff, 0xd8]), segment(0xe0, 'JFIF\0'), ...extra, segment(0xdb, 'table'), PIXELS]);

describe('a PNG', () => {
  it('loses its texts and times, and keeps its pixels', () => {
    const dirty = png(chunk('tEXt', SECRET), chunk('eXIf', SECRET), chunk('tIME', SECRET), chunk('PLTE', 'abc'));
    expect(cleanPhoto(dirty)).toEqual({
      type: 'image/png',
      data: plain(png(chunk('PLTE', 'abc'))),
      takenLocalMs: null,
      turned: 1,
    });
  });
  it('loses what stands behind its end', () => {
    expect(cleanPhoto(Buffer.concat([png(), Buffer.from(SECRET)]))?.data).toEqual(plain(png()));
  });
  it.each([1, 9, 20, 40])('cut after %i bytes is not taken', (length) =>
    expect(cleanPhoto(png().subarray(0, length))).toBeNull(),
  );
});

describe('a JPEG', () => {
  it('loses place, comments and previews', () => {
    const dirty = jpeg(exif(1, false), segment(0xed, SECRET), segment(0xfe, SECRET));
    expect(cleanPhoto(Buffer.concat([dirty, Buffer.from(SECRET)]))).toEqual({
      type: 'image/jpeg',
      data: plain(jpeg()),
      takenLocalMs: null,
      turned: 1,
    });
  });
  it.each([true, false])('keeps how it was held (little-endian: %s) and no more', (isLittle) => {
    const clean = Buffer.from(cleanPhoto(jpeg(exif(6, isLittle)))?.data ?? []);
    expect(clean.includes(SECRET)).toBe(false);
    expect(clean.length).toBe(jpeg().length + 36);
    // Cleaned again it is the same: what was written can be read.
    expect(Buffer.from(cleanPhoto(clean)?.data ?? [])).toEqual(clean);
  });
  it('with a broken segment or without an end is not taken', () => {
    expect(cleanPhoto(jpeg().subarray(0, 30))).toBeNull();
    expect(cleanPhoto(Buffer.from([0xff, 0xd8, 0xff, 0xe0, 0, 1, 0, 0]))).toBeNull();
    expect(cleanPhoto(Buffer.from('not a picture'))).toBeNull();
  });
});

describe('an SVG', () => {
  it.each([
    '<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0h9"/></svg>',
    '<?xml version="1.0"?><!-- drawn here --><svg viewBox="0 0 9 9"><use href="#a"/><g fill="url(#b)"/></svg>',
  ])('that is only a picture is taken', (text) => expect(svgFault(text)).toBeNull());
  it.each([
    ['<html><svg></svg></html>', 'begin'],
    ['<!DOCTYPE svg [<!ENTITY a "b">]><svg></svg>', 'begin'],
    ['<svg><script>alert(1)</script></svg>', 'scripts'],
    ['<svg><foreignObject></foreignObject></svg>', 'scripts'],
    ['<svg onload="alert(1)"></svg>', 'handlers'],
    ['<svg><image href="https://example.org/a.png"/></svg>', 'outside'],
    ['<svg><style>a{fill:url(//example.org/x)}</style></svg>', 'outside'],
    ['<svg><a xlink:href="javascript:alert(1)"/></svg>', 'outside'],
    ['<svg><style>@import "https://example.org/a.css";</style></svg>', 'outside'],
    ['<svg><style>a{fill:u\\72l(//example.org/x)}</style></svg>', 'backslashes'],
    ['<svg><style>a{fill:&#x75;rl(//example.org/x)}</style></svg>', 'outside'],
    ['<svg><style>&#64;import "x"</style></svg>', 'outside'],
    ['<svg><a><set attributeName="href" to="https://example.org"/></a></svg>', 'changes'],
    ["<svg><a><animate attributeName = 'xlink:href' values='https://example.org'/></a></svg>", 'changes'],
    ['<svg xml:base="https://example.org/"><image href="#a"/></svg>', 'outside'],
    ['<?xml version="1.0"?><svg><?xml-stylesheet type="text/css"?></svg>', 'outside'],
    ['<svg><desc>/*</desc><script/><desc>*/</desc></svg>', 'scripts'],
  ])('%s is not', (text, why) => expect(svgFault(text)).toContain(why));
});

it('an address holds the bytes', () => {
  expect(dataUri({ type: 'image/png', data: Buffer.from('abc') })).toBe('data:image/png;base64,YWJj');
});
