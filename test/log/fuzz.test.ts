/**
 * Damaged logs: whatever happens to the bytes, reading ends, crashes nowhere, and accounts for every line.
 * STANDSTILL_FUZZ=20000 makes a long run of it; a failure names the seed that repeats it.
 */
import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { UserError } from '../../src/base/problem.ts';
import { csv, memoryIo, type Reading, readFrom, samples, sessionWith } from './helpers.ts';
import { MUTATIONS, random } from './mutations.ts';

const CASES = Number(process.env.STANDSTILL_FUZZ ?? 500);
const SEED = Number(process.env.STANDSTILL_FUZZ_SEED ?? 1);

const LINES = csv(samples(160)).split('\n');

function mutated(seed: number): Buffer {
  const pick = random(seed);
  let bytes: Buffer = Buffer.from(LINES.slice(0, 20 + pick(140)).join('\n'));
  for (let k = pick(4); k >= 0 && bytes.length > 1; k--) {
    bytes = MUTATIONS[pick(MUTATIONS.length)](Buffer.from(bytes), pick);
  }
  return bytes;
}

/** Lines that end in LF, and what stands behind the last. */
function linesOf(bytes: Buffer): number {
  const text = bytes.includes(10) ? bytes : Buffer.from(bytes.toString('latin1').replaceAll('\r', '\n'), 'latin1');
  let lines = text.length > 0 && text[text.length - 1] !== 10 ? 1 : 0;
  for (const byte of text) if (byte === 10) lines++;
  return lines;
}

function expectAccounted({ t, v, i, temp, account }: Reading, bytes: Buffer): void {
  expect(t.filter((time, k) => !(Number.isFinite(time) && (k === 0 || time >= t[k - 1])))).toEqual([]);
  expect([...v, ...i, ...temp].filter((value) => Math.abs(value) === Number.POSITIVE_INFINITY)).toEqual([]);
  expect(account.rows - account.rowsRejected).toBe(t.length);
  expect(account.rows + (account.linesIgnored ?? 0)).toBe(linesOf(bytes));
  const told = account.faults
    .filter(({ kind }) => ['unreadable-row', 'cut-short', 'duplicate-rows', 'out-of-order', 'overlap'].includes(kind))
    .reduce((sum, { count }) => sum + count, 0);
  expect(told).toBeGreaterThanOrEqual(account.rowsRejected);
}

it(`survives ${CASES} damaged logs and accounts for every line`, { timeout: 60_000 + CASES * 20 }, async () => {
  let refused = 0;
  for (let seed = SEED; seed < SEED + CASES; seed++) {
    const bytes = mutated(seed);
    try {
      expectAccounted(await readFrom(memoryIo({ 'log.csv': bytes }, 512), ['log.csv'], sessionWith()), bytes);
    } catch (error) {
      if (!(error instanceof UserError)) throw new Error(`seed ${seed}: ${String(error)}`, { cause: error });
      refused++;
    }
  }
  // Most of them still have something to say.
  expect(refused).toBeLessThan(0.25 * CASES);
});

it('survives damaged gz files', async () => {
  for (let seed = SEED; seed < SEED + CASES / 10; seed++) {
    const pick = random(seed);
    const bytes = MUTATIONS[pick(5)](gzipSync(LINES.join('\n')), pick);
    try {
      const { t, account } = await readFrom(memoryIo({ 'log.csv.gz': bytes }), ['log.csv.gz'], sessionWith());
      expect(account.rows - account.rowsRejected).toBe(t.length);
    } catch (error) {
      if (!(error instanceof UserError)) throw new Error(`seed ${seed}: ${String(error)}`, { cause: error });
    }
  }
});
