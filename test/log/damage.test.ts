import { gzipSync } from 'node:zlib';
import { describe, expect, it } from 'vitest';
import type { OpenFile } from '../../src/log/files/io.ts';
import { csv, fault, iso, kinds, line, memoryIo, read, readFrom, START, samples, sessionWith } from './helpers.ts';

const ROWS = samples(600);
const TIMES = ROWS.map(({ t }) => t);
const YEAR_S = 366 * 86_400;

function withLine(at: number, ...lines: string[]): string {
  const all = csv(ROWS).split('\n');
  all.splice(at - 1, 0, ...lines);
  return all.join('\n');
}

/** The same rows, from `from` on with a clock that is `offset` s ahead of the true one. */
function withClock(from: number, to: number, offset: number): string {
  return csv(ROWS.map((row, k) => (k >= from && k < to ? { ...row, t: row.t + offset } : row)));
}

function expectOrder(t: readonly number[], expected: readonly number[]): void {
  expect(t).toHaveLength(expected.length);
  for (const [k, time] of expected.entries()) expect(t[k]).toBeCloseTo(time, 3);
}

describe('gaps', () => {
  it('tells a gap from the sample before it', async () => {
    const { account } = await read(csv([...ROWS.slice(0, 200), ...ROWS.slice(300)]));
    expect(account.faults).toMatchObject([{ kind: 'gap', at: ROWS[199].t, count: 1 }]);
    expect(account.faults[0].seconds).toBeCloseTo(10.1, 6);
    expect(account.rowsRejected).toBe(0);
  });

  it('has none where a logger slows down', async () => {
    const asleep = samples(100, { start: ROWS[599].t + 60, step: 60 });
    const awake = samples(300, { start: asleep[99].t + 60 });
    expect((await read(csv([...ROWS, ...asleep, ...awake]))).account.faults).toEqual([]);
  });
});

describe('clocks', () => {
  it('puts rows after a reset clock in sequence by their order', async () => {
    const offset = Date.UTC(2000, 0, 1) / 1000 - START - 20;
    const { t, v, account } = await read(withClock(200, 600, offset));
    expectOrder(t, TIMES);
    expect(v).toEqual(ROWS.map((row) => row.v));
    expect(kinds(account)).toEqual(['clock-jump']);
    expect(fault(account, 'clock-jump')).toMatchObject({ count: 1, at: ROWS[199].t, line: 202 });
    expect(fault(account, 'clock-jump').seconds).toBeCloseTo(-offset - 0.1, 3);
    expect(fault(account, 'clock-jump').found).toContain('set back');
  });

  it('puts them in sequence also where the clock lost only seconds', async () => {
    const { t, account } = await read(withClock(200, 600, -15.03));
    expectOrder(t, TIMES);
    expect(kinds(account)).toEqual(['clock-jump']);
  });

  it('tells one jump, and no second one back, where only some rows had a wrong clock', async () => {
    const { t, account } = await read(withClock(200, 240, -15.04));
    expectOrder(t, TIMES);
    expect(fault(account, 'clock-jump').count).toBe(1);
    expect(account.faults).toHaveLength(1);
  });

  it('goes back to the clock when it is put right', async () => {
    const { t, account } = await read(withClock(200, 400, -86_400 * 365 * 20));
    expectOrder(t, TIMES);
    expect(new Set(kinds(account))).toEqual(new Set(['clock-jump']));
  });

  it('puts rows from before the clock was set ahead of the rest', async () => {
    const { t, account } = await read(withClock(0, 200, Date.UTC(1980, 0, 1) / 1000 - START));
    expectOrder(t, TIMES);
    expect(kinds(account)).toEqual(['clock-jump']);
  });

  it('puts a file from after a reset clock behind the file before it', async () => {
    const offset = Date.UTC(2000, 0, 1) / 1000 - START;
    const reset = ROWS.slice(300).map((row) => ({ ...row, t: row.t + offset }));
    const { t, account } = await read({ 'a.csv': csv(ROWS.slice(0, 300)), 'b.csv': csv(reset) });
    expectOrder(t, TIMES);
    expect(kinds(account)).toEqual(['clock-jump']);
  });

  it('takes a jump forward of years as a clock that was set', async () => {
    const { t, account } = await read(withClock(300, 600, 86_400 * 365 * 30));
    expectOrder(t, TIMES);
    expect(fault(account, 'clock-jump').seconds).toBeCloseTo(86_400 * 365 * 30 + 0.1, 3);
  });

  it.each([-40 * 365 * 86_400, -7200, -3, 9, 7200, 40 * 365 * 86_400])(
    'is not led astray by one row with a time %i s off',
    async (offset) => {
      const { t, account } = await read(withClock(300, 301, offset));
      expect(t.filter((time) => TIMES.includes(time))).toHaveLength(599);
      expect(kinds(account)).toEqual(['out-of-order']);
      expect(account.faults[0].line).toBe(302);
    },
  );
});

describe('rows written twice, or late', () => {
  it('leaves out a row that is written twice', async () => {
    const { t, account } = await read(withLine(100, line(ROWS[97])));
    expect(t).toEqual(TIMES);
    expect(account.faults).toMatchObject([{ kind: 'duplicate-rows', count: 1, line: 100, at: ROWS[97].t }]);
    expect(account).toMatchObject({ rows: 601, rowsRejected: 1 });
  });

  it('leaves out a block that is written twice', async () => {
    const { t, account } = await read(csv([...ROWS.slice(0, 400), ...ROWS.slice(250)]));
    expect(t).toEqual(TIMES);
    expect(account.faults).toMatchObject([{ kind: 'duplicate-rows', count: 150, line: 402 }]);
  });

  it('leaves out a long log that is written twice', async () => {
    const long = samples(20_000);
    const { t, account } = await read(csv([...long, ...long]));
    expect(t).toEqual(long.map((row) => row.t));
    expect(account.faults).toMatchObject([{ kind: 'duplicate-rows', count: 20_000, line: 20_002 }]);
  });

  it('keeps rows that share a stamp where the clock is coarse', async () => {
    const coarse = ROWS.map((row) => ({ ...row, t: Math.floor(row.t), v: 12.6, a: 0, c: 20 }));
    const { t, account } = await read(csv(coarse));
    expect(t).toEqual(coarse.map((row) => row.t));
    expect(account.faults).toEqual([]);
  });

  it('puts late rows in their place', async () => {
    const mixed = [...ROWS.slice(0, 100), ...ROWS.slice(104, 110), ...ROWS.slice(100, 104), ...ROWS.slice(110)];
    const { t, v, account } = await read(csv(mixed));
    expect(t).toEqual(TIMES);
    expect(v).toEqual(ROWS.map((row) => row.v));
    expect(account.faults).toMatchObject([{ kind: 'out-of-order', count: 4, line: 108 }]);
    expect(account.rowsRejected).toBe(0);
  });

  it('puts rows that changed places back', async () => {
    const mixed = ROWS.map((_, k) => ROWS[k % 10 === 5 ? k + 1 : k % 10 === 6 ? k - 1 : k]);
    const { t, account } = await read(csv(mixed));
    expect(t).toEqual(TIMES);
    expect(new Set(kinds(account))).toEqual(new Set(['out-of-order']));
    expect(account.rowsRejected).toBe(0);
  });
});

describe('rows from new to old', () => {
  it('are read from the end', async () => {
    const long = samples(20_000);
    const { t, v, account } = await read(csv([...long].reverse()));
    expect(t).toEqual(long.map((row) => row.t));
    expect(v).toEqual(long.map((row) => row.v));
    expect(account).toMatchObject({ faults: [], rows: 20_000, rowsRejected: 0 });
    expect(account.understood.map(({ what }) => what)).toContain('order of rows');
  });

  it('keep their damage told', async () => {
    const lines = csv([...ROWS].reverse()).split('\n');
    lines.splice(50, 0, lines[49], 'torn');
    const { t, account } = await read(lines.join('\n'));
    expect(t).toEqual(TIMES);
    expect(kinds(account).sort()).toEqual(['duplicate-rows', 'unreadable-row']);
    expect(account).toMatchObject({ rows: 602, rowsRejected: 2 });
  });
});

describe('rows that cannot be read', () => {
  it('counts them, with the place and the words of the first', async () => {
    const { t, account } = await read(withLine(50, 'Sensor lost', '17:40 ???', '2026-03-03T17:40:04.790Z,12.6'));
    expect(t).toEqual(TIMES);
    expect(account.faults).toMatchObject([
      { kind: 'unreadable-row', count: 3, file: 'log.csv', line: 50, at: ROWS[47].t },
    ]);
    expect(account.faults[0].found).toContain('Sensor lost');
    expect(account).toMatchObject({ rows: 603, rowsRejected: 3 });
  });

  it('keeps a row of which one cell is a word, and tells it', async () => {
    const { t, i, account } = await read(csv(ROWS).replace(`,${ROWS[10].a.toFixed(4)},`, ',ERR,'));
    expect(t).toEqual(TIMES);
    expect(i.filter(Number.isNaN)).toHaveLength(1);
    expect(account.faults).toMatchObject([{ kind: 'unreadable-row', count: 1, found: 'a: "ERR"' }]);
    expect(account.rowsRejected).toBe(0);
  });

  it('reads on behind null bytes and garbage', async () => {
    const garbage = Buffer.from(Array.from({ length: 3000 }, (_, k) => (k * k * 7 + k) % 256));
    const text = csv(ROWS);
    const at = text.indexOf(line(ROWS[300]));
    const head = Buffer.from(text.slice(0, at));
    const tail = Buffer.from(text.slice(at));
    const nulls = await read(Buffer.concat([head, Buffer.alloc(4096), tail]));
    expect(nulls.t).toEqual(TIMES);
    expect(nulls.account.faults).toMatchObject([{ kind: 'unreadable-row', found: '4096 null bytes' }]);
    const torn = await read(Buffer.concat([head, garbage, Buffer.from('\n'), tail]));
    expect(torn.t).toEqual(TIMES);
    expect(kinds(torn.account)).toEqual(['unreadable-row']);
  });

  it('passes over megabytes without an end of line', async () => {
    const text = csv(ROWS);
    const at = text.indexOf(line(ROWS[300]));
    const { t, account } = await read(`${text.slice(0, at)}${'x'.repeat(3_000_000)}\n${text.slice(at)}`);
    expect(t).toEqual(TIMES);
    expect(account.faults).toMatchObject([{ kind: 'unreadable-row', count: 1, line: 302 }]);
  });
});

describe('files that break off', () => {
  const text = csv(ROWS);

  it.each([3, 12, 22, 29, 36])('leaves out a last row that lost %i bytes', async (lost) => {
    const { t, account } = await read(text.slice(0, -lost));
    expect(t).toEqual(TIMES.slice(0, -1));
    expect(account.faults).toMatchObject([{ kind: 'cut-short', count: 1, line: 601 }]);
    expect(account).toMatchObject({ rows: 600, rowsRejected: 1 });
  });

  it('keeps what came out of a torn gz', async () => {
    const packed = gzipSync(text);
    const { t, account } = await read(packed.subarray(0, packed.length / 2));
    expect(t.length).toBeGreaterThan(100);
    expect(t).toEqual(TIMES.slice(0, t.length));
    expect(account.faults.map(({ kind, found }) => [kind, found])).toContainEqual([
      'cut-short',
      'the gz file ends too early',
    ]);
  });

  it('keeps what came out of a damaged gz', async () => {
    const long = samples(10_000);
    const packed = gzipSync(csv(long));
    const middle = packed.length >> 1;
    packed.fill(0x55, middle, middle + 40);
    const { t, account } = await read(packed);
    // All but a piece of 16 kB of the half before the damage.
    expect(t.length).toBeGreaterThan(4400);
    // The damage may have made rows of its own before it was noticed, but only at the end.
    expect(t.slice(0, 4400)).toEqual(long.slice(0, 4400).map((row) => row.t));
    expect(account.faults.some(({ found }) => found?.includes('the gz file is damaged'))).toBe(true);
  });

  it('tells a file that changes while it is read', async () => {
    const io = memoryIo({ 'log.csv': text });
    let asked = 0;
    const growing = {
      ...io,
      async open(path: string): Promise<OpenFile> {
        const file = await io.open(path);
        return { ...file, stat: async () => ({ size: text.length + (asked++ > 0 ? 40 : 0), mtimeMs: 0 }) };
      },
    };
    const { t, account } = await readFrom(growing, ['log.csv'], sessionWith());
    expect(t).toEqual(TIMES);
    expect(fault(account, 'cut-short').found).toContain('changed while it was read');
  });
});

describe('readings that cannot be', () => {
  it('takes them out and tells them, column by column', async () => {
    const bad = ROWS.map((row, k) => (k === 100 || k === 101 ? { ...row, v: 65.535, c: -127 } : row));
    const { t, v, temp, account } = await read(csv(bad));
    expect(t).toEqual(TIMES);
    expect(v.flatMap((value, k) => (Number.isNaN(value) ? [k] : []))).toEqual([100, 101]);
    expect(temp[100]).toBeNaN();
    expect(account.faults).toMatchObject([
      { kind: 'out-of-range', count: 2, line: 102, found: 'v: 65.535 V' },
      { kind: 'out-of-range', count: 2, line: 102, found: 'c: -127 °C' },
    ]);
  });

  it('goes by the range of the sensor and the voltage of the system', async () => {
    const text = `time,v,a,c\n${iso(START)},28.5,620,20\n${iso(START + 1)},45,-900,20\n`;
    const current = { name: 'a', unit: 'A', positive: 'charging', rangeA: 500 } as const;
    const { v, i } = await read(text, sessionWith({ columns: { current }, systemV: 24 }));
    expect(v).toEqual([28.5, 45]);
    expect(i).toEqual([620, Number.NaN]);
    expect((await read(text)).v).toEqual([28.5, Number.NaN]);
  });
});

describe('times that are no dates', () => {
  const epoch = { columns: { time: { name: 'time', format: 'epoch-s' } } } as const;
  const counted = (rows: readonly (readonly [time: number | string, v?: number])[]) =>
    `time,v,a,c\n${rows.map(([time, v = 12.6]) => `${time},${v},-0.05,20\n`).join('')}`;
  const good = Array.from({ length: 1500 }, (_, k) => [START + k, 12 + (k % 100) / 100] as const);
  const found = 'a time before 1900 or after 2099';

  it.each(['1772533392532710', '9e300', '1e999', '-9999999999999', '8000000000000'])(
    'rejects the one row, and tells it: %s',
    async (cell) => {
      const { t, v, account } = await read(
        counted([...good.slice(0, 700), [cell, 7], ...good.slice(700)]),
        sessionWith(epoch),
      );
      expect(t).toEqual(good.map(([time]) => time));
      expect(v).toEqual(good.map(([, volts]) => volts));
      expect(account.faults).toMatchObject([{ kind: 'unreadable-row', count: 1, line: 702, at: START + 699, found }]);
      expect(account).toMatchObject({ rows: 1501, rowsRejected: 1 });
    },
  );

  it('rejects them at the start, where they order the files, and at the end', async () => {
    const text = counted([[1e15], [2e15], [3e15], ...good, [START + 1e11], [START + 1e11 + 1]]);
    const { t, account } = await read(text, sessionWith(epoch));
    expect(t).toEqual(good.map(([time]) => time));
    expect(account).toMatchObject({ rows: 1505, rowsRejected: 5 });
  });

  it('rejects years that only four digits can name', async () => {
    const text = withLine(300, '9999-12-31T23:59:59Z,12.6,0,20', '0000-01-01T00:00:00Z,12.6,0,20');
    const { t, account } = await read(text);
    expect(t).toEqual(TIMES);
    expect(account.faults).toMatchObject([{ kind: 'unreadable-row', count: 2, line: 300, found }]);
  });

  it('says what is wrong where all of them are milliseconds', async () => {
    const text = counted(good.map(([time, v]) => [time * 1000, v]));
    await expect(read(text, sessionWith(epoch))).rejects.toThrow('Say epoch-ms');
  });

  it('does not follow a few first rows that are years ahead of all others', async () => {
    const text = counted([[START + 60 * YEAR_S], ...good]);
    const { t, account } = await read(text, sessionWith(epoch));
    expect(t).toEqual(good.map(([time]) => time));
    expect(account.faults).toMatchObject([{ kind: 'out-of-order', count: 1, at: START }]);
  });
});
