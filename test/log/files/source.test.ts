import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import { HEAD_BYTES, openSource } from '../../../src/log/files/source.ts';
import { sha256 } from '../../../src/node/disk-io.ts';
import { memoryIo } from '../helpers.ts';

async function open(content: string | Uint8Array, chunk?: number) {
  const io = memoryIo({ 'log.csv': content }, chunk);
  return openSource(io, await io.open('/session/log.csv'), 'log.csv');
}

async function readThrough(source: Awaited<ReturnType<typeof open>>, enough?: () => boolean) {
  const text: number[] = [];
  let raw = 0;
  const chunks = source.chunks((bytes) => {
    raw += bytes;
  }, enough);
  for (;;) {
    const { done, value } = await chunks.next();
    if (done) return { text: Buffer.from(text).toString(), raw, ...value };
    text.push(...value);
  }
}
const TEXT = 'time,v\n1,12.6\n2,12.5\n';
const digestOf = async (bytes: Uint8Array) => {
  const checksum = sha256();
  checksum.update(bytes);
  return checksum.digest();
};

describe('whatever the file is, the rows are text with lines ended by LF', () => {
  it.each<[string, Uint8Array]>([
    ['plain', Buffer.from(TEXT)],
    ['packed', gzipSync(TEXT)],
    ['UTF-16 with its mark', Buffer.from(`\uFEFF${TEXT}`, 'utf16le')],
    ['UTF-8 with its mark', Buffer.from(`\uFEFF${TEXT}`)],
    ['lines ended by CR alone', Buffer.from(TEXT.replaceAll('\n', '\r'))],
  ])('%s', async (_, bytes) => {
    for (const chunk of [1_000_000, 3]) {
      const read = await readThrough(await open(bytes, chunk));
      expect(read.text).toBe(TEXT);
      expect([read.raw, read.damage]).toEqual([bytes.length, undefined]);
      expect(read.sha256).toBe(await digestOf(bytes));
    }
  });
});

it('the head is the begin of a long file and all of a short one', async () => {
  const long = 'x'.repeat(HEAD_BYTES + 10);
  const [short, cut] = [await open(TEXT), await open(long)];
  expect([short.headIsAll, Buffer.from(short.head).toString()]).toEqual([true, TEXT]);
  expect([cut.headIsAll, cut.head.length]).toEqual([false, HEAD_BYTES]);
});

it('once it is enough no text comes any more, and the checksum is still of all', async () => {
  let pieces = 0;
  const read = await readThrough(await open(TEXT, 5), () => ++pieces > 1);
  expect(read.text.length).toBeLessThan(TEXT.length);
  expect(read.sha256).toBe(await digestOf(Buffer.from(TEXT)));
});

it('tells of a packed file that breaks off', async () => {
  const torn = gzipSync(TEXT.repeat(5000)).subarray(0, 60);
  expect((await readThrough(await open(torn))).damage).toBeTruthy();
});
