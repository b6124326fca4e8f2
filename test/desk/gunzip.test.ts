/** What the page unpacks, against what was packed: sound, damaged, cut short, of several members, whatever its checksum. */
import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { gunzip } from '../../src/desk/gunzip.ts';

async function unpacked(packed: Uint8Array, chunk = 1 << 20) {
  async function* chunks() {
    for (let at = 0; at < packed.length; at += chunk) yield packed.subarray(at, at + chunk);
  }
  const parts: Buffer[] = [];
  const pieces = gunzip(chunks());
  for (;;) {
    const { done, value } = await pieces.next();
    if (done) return { text: Buffer.concat(parts).toString(), damage: value };
    parts.push(Buffer.from(value));
  }
}
const rows = (n: number, from = 0) =>
  Array.from({ length: n }, (_, k) => `${from + k},12.${(k * 7919) % 1000}\n`).join('');

it('a sound file is sound, whether or not its checksum begins with a one', async () => {
  for (let k = 0; k < 24; k++) {
    const text = rows(300 + 41 * k, k);
    expect(await unpacked(gzipSync(text))).toEqual({ text, damage: undefined });
  }
});

it('large ones, in chunks of any size, and of several members', async () => {
  const text = rows(120_000);
  const packed = gzipSync(text);
  for (const chunk of [1000, 65_536, 1 << 20])
    expect(await unpacked(packed, chunk)).toEqual({ text, damage: undefined });
  expect(await unpacked(Buffer.concat([packed, gzipSync('more\n')]))).toEqual({
    text: `${text}more\n`,
    damage: undefined,
  });
});

it('of a damaged file what stands before the damage is kept, and a missing end is told', async () => {
  const text = rows(120_000);
  const packed = gzipSync(text);
  const wrong = Buffer.from(packed).fill(0xff, 200_000, 200_008);
  const damaged = await unpacked(wrong);
  expect(damaged.damage).toMatch(/damaged/);
  // As deflate goes on unaware for a little: what comes before is whole.
  expect(damaged.text.length).toBeGreaterThan(0.5 * (200_000 / packed.length) * text.length);
  const sound = Math.floor(0.9 * (200_000 / packed.length) * text.length);
  expect(damaged.text.slice(0, sound)).toBe(text.slice(0, sound));
  const cut = await unpacked(packed.subarray(0, 300_000));
  expect(cut.damage).toMatch(/too early/);
  expect(text.startsWith(cut.text)).toBe(true);
  expect(cut.text.length).toBeGreaterThan(0.9 * (300_000 / packed.length) * text.length);
});
