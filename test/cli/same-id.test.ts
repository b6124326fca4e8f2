/** A later session with the id of another must not take its report's place. */
import { existsSync, readFileSync } from 'node:fs';
import { rename } from 'node:fs/promises';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { isoLocal, standstill, VAN_MANIFEST, type VanFiles, vanFiles, vanRows } from './van.ts';

let files: VanFiles;
beforeAll(async () => {
  files = await vanFiles();
});
afterAll(() => files.remove());

const logOf = (shift: number) =>
  `time,U,I\n${vanRows(0.2, 30)
    .map(({ s, volts, amps }) => `${isoLocal(s + shift)},${volts.toFixed(3)},${amps.toFixed(3)}`)
    .join('\n')}\n`;
const manifest = ({ id = 'shared-id', order = '', vehicle = 'Invented van', title = 'First' }) =>
  VAN_MANIFEST.replace(
    'id: small-van, title: Flat after a weekend',
    `id: ${id}, title: ${title}${order && `, repair_order: ${order}`}`,
  ).replace('Invented van', vehicle);
const titleIn = (out: string, id = 'shared-id') =>
  JSON.parse(readFileSync(join(out, 'sessions', id, 'report.json'), 'utf8')).session.title;

it('is refused, with both named, unless it is told to replace; what is its own is rebuilt', async () => {
  const out = join(files.root, 'out');
  const build = (folder: string, ...more: string[]) => standstill('build', folder, '--no-pdf', '--out', out, ...more);
  const first = await files.add('first', { 'session.yaml': manifest({ order: 'HL-1' }), 'log.csv': logOf(0) });
  expect(await build(first)).toMatchObject({ code: 0, err: '' });

  const other = await files.add('other', {
    'session.yaml': manifest({ order: 'HL-2', vehicle: 'Invented car', title: 'Second' }),
    'log.csv': logOf(864_000),
  });
  const { code, err } = await build(other);
  expect(code).toBe(1);
  expect(err).toContain('session.id "shared-id" is that of another session');
  for (const word of ['Invented van', 'repair order HL-1', 'Invented car', 'repair order HL-2', '--replace'])
    expect(err).toContain(word);
  expect(titleIn(out)).toBe('First');

  // The same folder, with another log; the same vehicle and order, from another folder; the same log, from another place.
  await files.add('first', { 'session.yaml': manifest({ order: 'HL-1', title: 'Again' }), 'log.csv': logOf(900) });
  expect(await build(first)).toMatchObject({ code: 0, err: '' });
  const moved = await files.add('moved', {
    'session.yaml': manifest({ order: 'HL-1', title: 'Moved' }),
    'log.csv': logOf(1800),
  });
  expect(await build(moved)).toMatchObject({ code: 0, err: '' });
  const copied = await files.add('copied', { 'session.yaml': manifest({ title: 'Copied' }), 'log.csv': logOf(1800) });
  expect(await build(copied)).toMatchObject({ code: 0, err: '' });
  expect(titleIn(out)).toBe('Copied');

  expect(await build(other, '--replace')).toMatchObject({ code: 0 });
  expect(titleIn(out)).toBe('Second');
});

it('ids that differ in case alone are the same', async () => {
  const out = join(files.root, 'out-case');
  const lower = await files.add('lower', { 'session.yaml': manifest({ id: 'case-id' }), 'log.csv': logOf(0) });
  const upper = await files.add('upper', {
    'session.yaml': manifest({ id: 'Case-ID', title: 'Upper' }),
    'log.csv': logOf(864_000),
  });
  const both = await standstill('build', lower, upper, '--no-pdf', '--out', out);
  expect(both.code).toBe(1);
  expect(both.err).toContain('session.id "Case-ID" is also that of');
  const later = await standstill('build', upper, '--no-pdf', '--out', out);
  expect(later.err).toContain('session.id "Case-ID" is, but for capital letters, that of another session');
  expect(await standstill('build', upper, '--no-pdf', '--out', out, '--replace')).toMatchObject({ code: 0 });
  expect(existsSync(join(out, 'sessions', 'case-id'))).toBe(process.platform === 'win32');
  expect(titleIn(out, 'Case-ID')).toBe('Upper');
});

it('a session folder that moves along with its archive stays its own', async () => {
  const shop = join(files.root, 'shop');
  const folder = await files.add('shop/van', { 'session.yaml': manifest({}), 'log.csv': logOf(0) });
  expect(await standstill('build', folder, '--no-pdf', '--out', join(shop, 'out'))).toMatchObject({ code: 0 });
  await rename(shop, join(files.root, 'shop-2'));
  await files.add('shop-2/van', { 'session.yaml': manifest({ title: 'New log' }), 'log.csv': logOf(864_000) });
  const again = await standstill(
    'build',
    join(files.root, 'shop-2', 'van'),
    '--no-pdf',
    '--out',
    join(files.root, 'shop-2', 'out'),
  );
  expect(again).toMatchObject({ code: 0, err: '' });
});
