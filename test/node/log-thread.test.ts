/** A log read in a thread gives what it gives in place. Node starts threads from JavaScript only, so the compiled reader is tried. */
import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { fileURLToPath, pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { SampleBlock } from '../../src/log/block.ts';
import { readOnce } from '../../src/log/read-log.ts';
import { diskIo } from '../../src/node/disk-io.ts';
import type { readLogFiles } from '../../src/node/read-log-files.ts';
import { csv, samples, sessionWith } from '../log/helpers.ts';

const folder = mkdtempSync(join(tmpdir(), 'standstill-thread-'));
const session = { ...sessionWith(), folder };
const compiled = new URL('../../.build/node/log-thread.js', import.meta.url);
const { readInThread, startLogThread } = await import(compiled.href);

/** More rows than the thread may be ahead, with damage along the way. */
const LINES = csv(samples(150_000)).split('\n');
for (let k = 500; k < LINES.length; k += 9_001)
  LINES[k] = k % 2 === 0 ? 'what is this?' : `${LINES[k].slice(0, 30)},oops,1`;

beforeAll(() => {
  writeFileSync(join(folder, 'a.csv'), LINES.join('\n'));
  writeFileSync(join(folder, 'b.csv.gz'), gzipSync(csv(samples(20_000))));
  writeFileSync(join(folder, 'other.csv'), 'when,volts\n1,2\n');
});
afterAll(() => rmSync(folder, { recursive: true }));

type Reading = typeof readLogFiles;
const inPlace: Reading = (options) => readOnce({ ...options, io: diskIo });
const inThread: Reading = (options) => readInThread(options);

/** The account, a checksum over all samples, and how far it got. */
async function everythingOf(read: Reading, files: readonly string[]) {
  const hash = createHash('sha256');
  let rows = 0;
  let progress: readonly number[] = [];
  const onBlock = ({ n, t, v, i, temp, ch }: SampleBlock) => {
    rows += n;
    for (const column of [t, v, i, temp, ...ch]) hash.update(column.slice(0, n));
  };
  const onProgress = (done: number, total: number) => {
    progress = [done, total];
  };
  const account = await read({ session, files, onBlock, onProgress });
  return { account, rows, progress, checksum: hash.digest('hex') };
}

describe.skipIf(availableParallelism() < 2)('a thread', () => {
  it.each([[['a.csv']], [['b.csv.gz']], [['a.csv', 'b.csv.gz']]])('reads %s as it is read in place', async (files) => {
    const expected = await everythingOf(inPlace, files);
    expect(expected.rows).toBeGreaterThan(19_000);
    const found = await everythingOf(inThread, files);
    expect(found).toEqual(expected);
    expect(found.progress[0]).toBe(found.progress[1]);
  });

  it.each(['other.csv', 'not-there.csv'])('refuses %s as it is refused in place', async (file) => {
    const problemsOf = (read: Reading) =>
      read({ session, files: ['a.csv', file], onBlock: () => {} }).then(
        () => null,
        ({ name, problems }) => [name, problems],
      );
    const expected = await problemsOf(inPlace);
    expect(expected?.[0]).toBe('UserError');
    expect(await problemsOf(inThread)).toEqual(expected);
  });

  it('ends in the middle of a file when whoever takes the samples gives up', async () => {
    const onBlock = () => {
      throw new Error('enough');
    };
    await expect(inThread({ session, files: ['a.csv'], onBlock })).rejects.toThrow('enough');
  });

  it('that was started beforehand reads the same, and the next log has one of its own', async () => {
    startLogThread();
    const first = await everythingOf(inThread, ['b.csv.gz']);
    expect(await everythingOf(inThread, ['b.csv.gz'])).toEqual(first);
    expect(first.rows).toBeGreaterThan(19_000);
  });

  it('that could not start beforehand is told of where a log is read, and no sooner', async () => {
    const broken = mkdtempSync(join(tmpdir(), 'standstill-thread-'));
    const built = fileURLToPath(new URL('../', compiled));
    mkdirSync(join(broken, 'node'));
    for (const name of ['base', 'log', 'node/disk-io.js', 'node/engine.js'])
      symlinkSync(join(built, name), join(broken, name));
    // Without the map that lies beside the compiled one.
    const text = readFileSync(compiled, 'utf8').replace(/^\/\/# sourceMappingURL.*$/m, '');
    writeFileSync(join(broken, 'node/log-thread.js'), text);
    writeFileSync(join(broken, 'node/log-thread-main.js'), 'throw new Error("no memory");');
    writeFileSync(join(broken, 'package.json'), '{"type": "module"}');
    const own = await import(pathToFileURL(join(broken, 'node/log-thread.js')).href);
    own.startLogThread();
    await wait(1000);
    await expect(own.readInThread({ session, files: ['a.csv'], onBlock: () => {} })).rejects.toThrow('no memory');
    rmSync(broken, { recursive: true });
  });
});
