import { expect, it } from 'vitest';
import { type Files, nodeFiles } from '../../src/manifest/files.ts';
import { renderPage } from '../../src/report/page.ts';
import { readPhotos } from '../../src/report/photos.ts';
import { sampleReport, session } from './sample.ts';

/** The smallest JPEG that is one for us. */
const jpeg = Buffer.from([0xff, 0xd8, 0xff, 0xda, 0, 4, 1, 2, 9, 9, 0xff, 0xd9]);

const disk = (contents: Readonly<Record<string, Buffer>>): Files => {
  const at = (path: string) =>
    Object.entries(contents).find(([name]) => path.replaceAll('\\', '/').endsWith(name))?.[1];
  return {
    ...nodeFiles,
    stat: (path) => (at(path) ? { kind: 'file', bytes: at(path)?.length ?? 0 } : undefined),
    readFile: (path) => at(path) ?? Buffer.alloc(0),
  };
};

it('takes photos that are small and sound, and lists the others', () => {
  const photos = ['photos/a.jpg', 'photos/huge.jpg', 'photos/b.txt', 'photos/gone.jpg'];
  const found = readPhotos(
    { ...session, photos },
    disk({ 'a.jpg': jpeg, 'huge.jpg': Buffer.alloc(400 * 1024), 'b.txt': Buffer.from('text') }),
  );
  expect([...found.keys()]).toEqual(['photos/a.jpg']);
  const html = renderPage(sampleReport({ session: { photos } }), [], { pageSize: 'a4', photos: found });
  expect(html).toContain(`<img src="data:image/jpeg;base64,${jpeg.toString('base64')}" alt="Photo photos/a.jpg">`);
  expect(html.match(/<img/g)).toHaveLength(1);
  expect(html).toMatch(/photos\/huge\.jpg \(not shown/);
});
