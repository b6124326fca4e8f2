/** What can happen to the bytes of a log, and a source of chance that repeats itself. */

/** A whole number from 0 to `below` − 1. */
export type Random = (below: number) => number;

/** mulberry32 */
export function random(seed: number): Random {
  let state = seed >>> 0;
  return (below) => {
    state = (state + 0x6d2b79f5) >>> 0;
    let x = Math.imul(state ^ (state >>> 15), state | 1);
    x ^= x + Math.imul(x ^ (x >>> 7), x | 61);
    return ((x ^ (x >>> 14)) >>> 0) % below;
  };
}

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

export const MUTATIONS: readonly ((bytes: Buffer, pick: Random) => Buffer)[] = [
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
