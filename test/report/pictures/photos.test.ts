import { expect, it } from 'vitest';
import { nodeFiles } from '../../../src/base/disk/node-files.ts';
import type { Files } from '../../../src/base/files.ts';
import type { Photo } from '../../../src/manifest/session.ts';
import { jpegSize, writeJpeg } from '../../../src/report/pictures/jpeg.ts';
import { readPhotos } from '../../../src/report/pictures/photos.ts';
import { renderPage } from '../render-page.ts';
import { sampleReport, session } from '../sample.ts';

/** The smallest JPEG that is one for us. */
const jpeg = Buffer.from([0xff, 0xd8, 0xff, 0xda, 0, 4, 1, 2, 9, 9, 0xff, 0xd9]);

/** A camera's: noise, so that it is large, with what the camera notes. */
function cameraJpeg(width: number, height: number, taken = '2026:03:03 17:35:20'): Buffer {
  let state = 1;
  const data = Uint8Array.from({ length: 4 * width * height }, () => {
    state = (state * 48_271) % 0x7fffffff;
    return state & 0xff;
  });
  const tiff = Buffer.alloc(26 + 18 + 20);
  tiff.write('II*\0', 'latin1');
  const entry = (at: number, tag: number, kind: number, count: number, value: number) => {
    tiff.writeUInt16LE(1, at);
    tiff.writeUInt16LE(tag, at + 2);
    tiff.writeUInt16LE(kind, at + 4);
    tiff.writeUInt32LE(count, at + 6);
    tiff.writeUInt32LE(value, at + 10);
  };
  tiff.writeUInt32LE(8, 4);
  entry(8, 0x8769, 4, 1, 26);
  entry(26, 0x9003, 2, 20, 44);
  tiff.write(`${taken}\0`, 44, 'latin1');
  const body = Buffer.concat([Buffer.from('Exif\0\0'), tiff]);
  const head = Buffer.concat([Buffer.from([0xff, 0xe1, 0, body.length + 2]), body]);
  const written = writeJpeg({ width, height, data }, 90);
  return Buffer.concat([written.subarray(0, 2), head, written.subarray(2)]);
}

const disk = (contents: Readonly<Record<string, Buffer>>): Files => {
  const at = (path: string) =>
    Object.entries(contents).find(([name]) => path.replaceAll('\\', '/').endsWith(name))?.[1];
  return {
    ...nodeFiles,
    stat: (path) => (at(path) ? { kind: 'file', bytes: at(path)?.length ?? 0 } : undefined),
    readFile: (path) => at(path) ?? Buffer.alloc(0),
  };
};
const read = (photos: readonly Photo[], contents: Readonly<Record<string, Buffer>>) =>
  readPhotos({ ...session, photos }, disk(contents));
const bytesOf = (address: string | null | undefined) => Buffer.from(address?.split(',')[1] ?? '', 'base64');

it('takes photos that are small and sound, and says of each other why it is not shown', () => {
  const photos = ['a.jpg', 'huge.png', 'b.txt', 'gone.jpg'].map((name) => ({ file: `photos/${name}` }));
  const signature = Buffer.from([0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]);
  const chunk = (kind: string, length: number) => {
    const size = Buffer.alloc(4);
    size.writeUInt32BE(length);
    return Buffer.concat([size, Buffer.from(kind), Buffer.alloc(length + 4)]);
  };
  const huge = Buffer.concat([signature, chunk('IHDR', 13), chunk('IDAT', 400 * 1024), chunk('IEND', 0)]);
  const { shown } = read(photos, { 'a.jpg': jpeg, 'huge.png': huge, 'b.txt': Buffer.from('text') });
  expect([...shown].map(([name, { address, why }]) => [name, address !== null, why])).toEqual([
    ['photos/a.jpg', true, null],
    ['photos/huge.png', false, 'too_large'],
    ['photos/b.txt', false, 'not_read'],
    ['photos/gone.jpg', false, 'not_read'],
  ]);
  const html = renderPage(sampleReport({ session: { photos } }), [], { pageSize: 'a4', photos: shown });
  expect(html).toContain(`<img src="data:image/jpeg;base64,${jpeg.toString('base64')}" alt="Photo: photos/a.jpg">`);
  expect(html.match(/<img/g)).toHaveLength(1);
  expect(html).toMatch(/photos\/huge\.png \(not shown: too large/);
  expect(html).toMatch(/photos\/b\.txt \(not shown: not a whole JPEG/);
});

it('makes large photos of cameras smaller, all together within the page', () => {
  const large = cameraJpeg(1000, 800);
  expect(large.length).toBeGreaterThan(500_000);
  const photos = Array.from({ length: 5 }, (_, k) => ({ file: `photos/${k}.jpg` }));
  const { shown } = read(photos, Object.fromEntries(photos.map(({ file }) => [file, large])));
  const pictures = [...shown.values()].map(({ address }) => bytesOf(address));
  for (const picture of pictures) {
    // Half, a quarter or an eighth a side.
    expect([500, 250, 125]).toContain(jpegSize(picture)?.width);
    expect(picture.includes('2026:03:03')).toBe(false);
  }
  expect(pictures.reduce((sum, { length }) => sum + length, 0)).toBeLessThanOrEqual(600 * 1024);
});

it('leaves more room for the others where some are small', () => {
  const photos = [0, 1, 2, 3, 4, 'last'].map((name) => ({ file: `${name}.jpg` }));
  const contents = Object.fromEntries(photos.map(({ file }) => [file, jpeg]));
  // Larger than a sixth of what a page may hold, and smaller than what one photo may.
  const last = cameraJpeg(380, 380);
  expect(last.length).toBeGreaterThan((600 * 1024) / 6);
  const { shown } = read(photos, { ...contents, 'last.jpg': last });
  expect(jpegSize(bytesOf(shown.get('last.jpg')?.address))?.width).toBe(380);
});

it('takes a time from the manifest before one of the camera, whose clock is local to the session', () => {
  const photos: Photo[] = [
    { file: 'told.jpg', atMs: 7, atFrom: 'manifest' },
    { file: 'camera.jpg' },
    { file: 'summer.jpg' },
    { file: 'skipped.jpg' },
    { file: 'unset.jpg' },
    { file: 'none.jpg' },
  ];
  const small = (taken: string) => cameraJpeg(16, 16, taken);
  const found = read(photos, {
    'told.jpg': small('2026:03:03 17:35:20'),
    'camera.jpg': small('2026:03:03 17:35:20'),
    'summer.jpg': small('2026:07:03 17:35:20'),
    // Dublin sets its clocks forward at one o'clock that night.
    'skipped.jpg': small('2026:03:29 01:30:00'),
    'unset.jpg': small('0000:00:00 00:00:00'),
    'none.jpg': jpeg,
  }).photos;
  expect(found.map(({ atMs, atFrom }) => [atMs, atFrom])).toEqual([
    [7, 'manifest'],
    [Date.UTC(2026, 2, 3, 17, 35, 20), 'camera'],
    [Date.UTC(2026, 6, 3, 16, 35, 20), 'camera'],
    [undefined, undefined],
    [undefined, undefined],
    [undefined, undefined],
  ]);
});
