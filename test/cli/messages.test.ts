/** What a person does wrong in a workshop, and what is said to it. */
import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { isoLocal, standstill, VAN_MANIFEST, type VanFiles, vanFiles, vanRows } from './van.ts';

let files: VanFiles;
let made = 0;
beforeAll(async () => {
  files = await vanFiles();
});
afterAll(() => files.remove());

const LOG = `time,U,I\n${vanRows(0.3)
  .map(({ s, volts, amps }) => `${isoLocal(s)},${volts.toFixed(3)},${amps.toFixed(3)}`)
  .join('\n')}\n`;
const folderOf = (manifest: string, more: Readonly<Record<string, string>> = { 'log.csv': LOG }) =>
  files.add(`slip-${made++}`, { 'session.yaml': manifest, ...more });
const said = async (manifest: string, more?: Readonly<Record<string, string>>) =>
  (await standstill('check', await folderOf(manifest, more))).err;

describe('session.yaml', () => {
  it('a colon within text', async () => {
    const flow = VAN_MANIFEST.replace('title: Flat after', 'title: Flat: after');
    expect(await said(flow)).toMatch(
      /session\.yaml:2:\d+ Text that holds a colon and a space stands in quotes, such as title: "Flat: again"\n$/,
    );
    const note = `${VAN_MANIFEST}notes:\n  - at: 2026-03-03T18:00\n    text: He said: lock it: twice\n`;
    const err = await said(note);
    expect(err).toContain('such as text: "He said: lock it: twice"');
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it('one tab is one problem', async () => {
    const err = await said(VAN_MANIFEST.replace('  files', '\tfiles'));
    expect(err).toMatch(/session\.yaml:6:1 A tab stands at the beginning of this line\. Indent with spaces\.\n$/);
    expect(err.trim().split('\n')).toHaveLength(1);
  });

  it('no time zone', async () => {
    expect(await said(VAN_MANIFEST.replace(', timezone: Europe/Dublin', ''))).toContain(
      'session.timezone: Missing. Expected: the IANA name of the zone that the logger’s clock is set to, such as Europe/Dublin.',
    );
  });
});

describe('files', () => {
  it.each([
    ['log.xlsx', 'It is a spreadsheet: export it as CSV.'],
    ['log.zip', 'It is packed: unpack it.'],
  ])('%s', async (name, hint) => {
    expect(await said(VAN_MANIFEST.replace('"*.csv"', name), { [name]: 'PK' })).toContain(hint);
  });

  it('a zip under another name, and a file that is no text: no control character reaches the terminal', async () => {
    expect(await said(VAN_MANIFEST, { 'log.csv': 'PK\u0003\u0004 and so on' })).toContain(
      'Unpack it, or export the spreadsheet as CSV.',
    );
    const noise = Array.from({ length: 4000 }, (_, k) => String.fromCharCode((k * 7919) % 251)).join('');
    const err = await said(VAN_MANIFEST, { 'log.csv': noise });
    expect(err).toContain('This file is no text');
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
    expect(err).not.toMatch(/[\u0000-\u0009\u000b-\u001f\u007f-\u009f]|\\u00/);
  });

  it('the path of the manifest, or of the log, is taken for its folder', async () => {
    const folder = await folderOf(VAN_MANIFEST.replace('"*.csv"', 'log/a.csv'), { 'log/a.csv': LOG });
    for (const path of ['session.yaml', 'log/a.csv']) {
      expect(await standstill('check', join(folder, path))).toMatchObject({ code: 0, err: '' });
    }
    const out = join(files.root, 'out-path');
    expect(await standstill('build', join(folder, 'session.yaml'), '--no-pdf', '--out', out)).toMatchObject({
      code: 0,
    });
  });
});

describe('what stays out of the report', () => {
  it('a photo of a kind that no page shows is refused', async () => {
    expect(await said(`${VAN_MANIFEST}photos: [a.heic]\n`)).toContain('Save it as JPEG');
  });

  it('is told by check and build: a photo too large, one that cannot be shown, a note of another month', async () => {
    const manifest = `${VAN_MANIFEST}photos: [a.webp, b.png]\nnotes: [{at: 2026-05-03T18:00, text: Locked}]\n`;
    const folder = await folderOf(manifest);
    await writeFile(join(folder, 'a.webp'), 'RIFF1234WEBP');
    const chunk = (kind: string, data: Buffer) => {
      const length = Buffer.alloc(4);
      length.writeUInt32BE(data.length);
      return Buffer.concat([length, Buffer.from(kind), data, Buffer.alloc(4)]);
    };
    const png = [
      Buffer.from('89504e470d0a1a0a', 'hex'),
      chunk('IHDR', Buffer.alloc(13)),
      chunk('IDAT', Buffer.alloc(900_000)),
      chunk('IEND', Buffer.alloc(0)),
    ];
    await writeFile(join(folder, 'b.png'), Buffer.concat(png));
    const { code, out } = await standstill('check', folder);
    expect(code).toBe(0);
    const { err } = await standstill('build', folder, '--no-pdf', '--out', join(files.root, 'out-photos'));
    for (const text of [out.replaceAll(/\s+/g, ' '), err.replaceAll(/\s+/g, ' ')]) {
      expect(text).toContain('photos[0]: "a.webp" is left out of the report: WebP is not shown. Save it as JPEG.');
      expect(text).toContain('photos[1]: "b.png" is left out of the report: it is too large');
      expect(text).toMatch(/notes\[0\]: "Locked" is of Sun 3 May 2026, 18:00, more than a day outside the log/);
    }
  });
});
