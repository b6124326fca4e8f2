/** A log read in a thread gives what it gives in place. Node starts threads from JavaScript only, so that is made first. */
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { availableParallelism, tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { InputThread } from '../../src/log/input-thread.ts';
import { diskIo } from '../../src/log/io.ts';
import type { LogInput } from '../../src/log/log-input.ts';
import { openInput } from '../../src/log/open-input.ts';
import type { RowNote } from '../../src/log/row-reader.ts';
import type { Session } from '../../src/manifest/session.ts';
import { csv, samples, sessionWith } from './helpers.ts';

const root = resolve(import.meta.dirname, '../..');
// Below node_modules, so that the compiled files find their packages.
const compiled = mkdtempSync(join(root, 'node_modules', '.thread-test-'));
const folder = mkdtempSync(join(tmpdir(), 'standstill-thread-'));
const session = { ...sessionWith(), folder };
let startInputThread: (session: Session) => InputThread | undefined;

/** More rows than the thread may be ahead, with damage along the way. */
const ROWS = samples(150_000);
const LINES = csv(ROWS).split('\n');
for (let k = 500; k < LINES.length; k += 9_001)
  LINES[k] = k % 2 === 0 ? 'what is this?' : `${LINES[k].slice(0, 30)},oops,1`;

beforeAll(async () => {
  const settings = {
    extends: join(root, 'tsconfig.json'),
    compilerOptions: { noEmit: false, outDir: compiled, rootDir: join(root, 'src'), noCheck: true },
    include: [],
    files: ['input-thread.ts', 'input-thread-main.ts'].map((name) => join(root, 'src', 'log', name)),
  };
  writeFileSync(join(compiled, 'tsconfig.json'), JSON.stringify(settings));
  writeFileSync(join(compiled, 'package.json'), '{"type": "module"}');
  execFileSync(process.execPath, [join(root, 'node_modules', 'typescript', 'bin', 'tsc'), '-p', compiled]);
  ({ startInputThread } = await import(pathToFileURL(join(compiled, 'log', 'input-thread.js')).href));
  writeFileSync(join(folder, 'a.csv'), LINES.join('\n'));
  writeFileSync(join(folder, 'b.csv.gz'), gzipSync(csv(samples(20_000))));
  writeFileSync(join(folder, 'other.csv'), 'when,volts\n1,2\n');
});
afterAll(() => {
  rmSync(compiled, { recursive: true });
  rmSync(folder, { recursive: true });
});

/** Everything that an input gives: what it says of itself, and a checksum over all rows. */
async function everythingOf({ read, close, ...facts }: LogInput) {
  const hash = createHash('sha256');
  const notes: RowNote[] = [];
  let rows = 0;
  let bytes = 0;
  const outcome = await read(
    (batch, more) => {
      for (const column of [batch.t, batch.line, ...batch.values, batch.twin]) hash.update(column.slice(0, batch.n));
      notes.push(...more.map((note) => ({ ...note, row: note.row + rows })));
      rows += batch.n;
    },
    (more) => {
      bytes += more;
    },
  );
  await close();
  return { facts, outcome, notes, rows, bytes, checksum: hash.digest('hex') };
}

describe.skipIf(availableParallelism() < 2)('a thread', () => {
  let thread: InputThread;
  beforeAll(() => {
    thread = startInputThread(session) as InputThread;
  });
  afterAll(() => thread.end());

  it.each(['a.csv', 'b.csv.gz'])('reads %s as it is read in place', async (name) => {
    const inPlace = await everythingOf(await openInput(diskIo, session, name));
    expect(inPlace.rows).toBeGreaterThan(19_000);
    expect(await everythingOf(await thread.open(name))).toEqual(inPlace);
  });

  it('refuses what is refused in place, and goes on with the next', async () => {
    const problemsOf = (opening: Promise<LogInput>) =>
      opening.then(
        () => null,
        ({ name, problems }) => [name, problems],
      );
    const inPlace = await problemsOf(openInput(diskIo, session, 'other.csv'));
    expect(inPlace?.[0]).toBe('UserError');
    expect(await problemsOf(thread.open('other.csv'))).toEqual(inPlace);
    expect(await problemsOf(thread.open('not-there.csv'))).toEqual(
      await problemsOf(openInput(diskIo, session, 'not-there.csv')),
    );
    expect((await thread.open('a.csv')).firstT).toBe(ROWS[2].t);
  });

  it('can be ended in the middle of a file, when whoever takes the rows gives up', async () => {
    const second = startInputThread(session) as InputThread;
    const input = await second.open('a.csv');
    const giveUp = () => {
      throw new Error('enough');
    };
    await expect(input.read(giveUp, () => {})).rejects.toThrow('enough');
    await second.end();
  });
});
