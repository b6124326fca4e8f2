/**
 * Damaged logs: whatever happens to the bytes, reading ends, crashes nowhere, and accounts for every line.
 * STANDSTILL_FUZZ=20000 makes a long run of it; a failure names the seed that repeats it.
 */
import { gzipSync } from 'node:zlib';
import { expect, it } from 'vitest';
import { UserError } from '../../src/manifest/problem.ts';
import { csv, memoryIo, type Reading, readFrom, samples, sessionWith } from './helpers.ts';

const CASES = Number(process.env.STANDSTILL_FUZZ ?? 500);
const SEED = Number(process.env.STANDSTILL_FUZZ_SEED ?? 1);

type Random = (below: number) => number;

/** mulberry32 */
function random(seed: number): Random {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) % below;
  };
}

const LINES = csv(samples(160)).split('\n');
const SCRAPS = [
  '"',
  ',',
  ';',
  '\0',
  '\r',
  '\n',
  '-',
  '1e999',
  '99999999999999999999',
  'NaN',
  '\uFEFF',
  'é',
  '1980-01-01T00:00:00Z',
  '""",""',
  '\n\n',
  '2026-03-03',
];

const MUTATIONS: readonly ((bytes: Buffer, pick: Random) => Buffer)[] = [
  (bytes, pick) => {
    bytes[pick(bytes.length)] = pick(256);
    return bytes;
  },
  (bytes, pick) => bytes.subarray(0, pick(bytes.length)),
  (bytes, pick) => {
    const at = pick(bytes.length);
    return Buffer.concat([bytes.subarray(0, at), Buffer.from(SCRAPS[pick(SCRAPS.length)]), bytes.subarray(at)]);
  },
  (bytes, pick) => {
    const at = pick(bytes.length);
    return Buffer.concat([bytes.subarray(0, at), bytes.subarray(Math.min(bytes.length, at + 1 + pick(400)))]);
  },
  (bytes, pick) => {
    const [at, from] = [pick(bytes.length), pick(bytes.length)];
    return Buffer.concat([bytes.subarray(0, at), bytes.subarray(from, from + pick(3000)), bytes.subarray(at)]);
  },
  (bytes, pick) => {
    const at = pick(bytes.length);
    return Buffer.from(bytes.fill(pick(256), at, Math.min(bytes.length, at + pick(600))));
  },
  (bytes, pick) => {
    const lines = bytes.toString('latin1').split('\n');
    const at = pick(lines.length);
    lines.splice(pick(lines.length), 0, ...lines.splice(at, pick(30)));
    return Buffer.from(lines.join('\n'), 'latin1');
  },
  (bytes, pick) => {
    // Another clock from some row on.
    const lines = bytes.toString('latin1').split('\n');
    const from = pick(lines.length);
    const year = String(1970 + pick(100));
    return Buffer.from(lines.map((text, k) => (k < from ? text : text.replace(/^\d{4}/, year))).join('\n'), 'latin1');
  },
];

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
