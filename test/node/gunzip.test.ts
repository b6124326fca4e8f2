/** Packed logs that are larger than they look. */
import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { gunzip } from '../../src/node/gunzip.ts';
import { csv, fault, read, samples } from '../log/helpers.ts';

const MB = 1 << 20;
/** Members one after another are one file (RFC 1952, 2.2). */
const packed = (mb: number, fill: number) =>
  Buffer.concat(Array<Buffer>(mb / 4).fill(gzipSync(Buffer.alloc(4 * MB, fill))));
async function* once(bytes: Uint8Array) {
  yield bytes;
}

describe('a packed file of nothing', () => {
  it('is unpacked piece by piece, whatever becomes of one chunk', async () => {
    const chunk = packed(512, 0);
    expect(chunk.length).toBeLessThan(MB);
    const before = process.memoryUsage().arrayBuffers;
    let [bytes, most] = [0, 0];
    for await (const piece of gunzip(once(chunk), () => false)) {
      bytes += piece.length;
      most = Math.max(most, process.memoryUsage().arrayBuffers - before);
    }
    expect(bytes).toBe(512 * MB);
    // What waits for the garbage collector is in it.
    expect(most).toBeLessThan(160 * MB);
  }, 60_000);

  it('is not unpacked once there was enough', async () => {
    let bytes = 0;
    for await (const piece of gunzip(once(packed(512, 0)), () => bytes > MB)) bytes += piece.length;
    expect(bytes).toBeLessThan(3 * MB);
  });

  it.each([
    ['lines', '\n'],
    ['bytes', '\0'],
  ])(
    'behind a log ends the reading, told, and keeps its rows: %s',
    async (what, fill) => {
      const rows = samples(500);
      const text = csv(rows);
      const file = Buffer.concat([gzipSync(text), packed(400, fill.charCodeAt(0)), gzipSync(text)]);
      const { t, account } = await read(file);
      expect(t).toEqual(rows.map((row) => row.t));
      expect(fault(account, 'cut-short').found).toMatch(
        new RegExp(`^more than \\d+ ${what} without a row: what follows was not read$`),
      );
    },
    120_000,
  );

  it('alone is told, and so is a line too long to be one', async () => {
    await expect(read(packed(400, 0))).rejects.toThrow('more than 16384 bytes without an end of line');
    await expect(read(`time,v,a,c${',x'.repeat(100_000)}\n`)).rejects.toThrow('without an end of line');
    await expect(read('\n'.repeat(MB))).rejects.toThrow('has no rows');
  }, 60_000);
});
