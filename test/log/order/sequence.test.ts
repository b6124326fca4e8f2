/** What becomes of rows where time jumps. Ten rows a second, numbered by their voltage. */
import { describe, expect, it } from 'vitest';
import type { LogFault } from '../../../src/log/block.ts';
import { createLedger } from '../../../src/log/order/ledger.ts';
import { createSequence } from '../../../src/log/order/sequence.ts';
import { createRawRows } from '../../../src/log/rows/raw-rows.ts';

const STEP_S = 0.1;
const YEAR_S = 366 * 86_400;
type Row = readonly [t: number, number: number];
const run = (from: number, n: number, shiftS = 0): Row[] =>
  Array.from({ length: n }, (_, k) => [(from + k) * STEP_S + shiftS, from + k]);

interface Out {
  readonly t: readonly number[];
  /** Numbers of the rows, in the order in which they came out. */
  readonly rows: readonly number[];
  readonly faults: readonly LogFault[];
  readonly unsetS: number;
}

function sequence(files: readonly (readonly Row[])[], { coarse = false, startShiftS = 0, twins = false } = {}): Out {
  const [t, numbers]: [number[], number[]] = [[], []];
  const ledger = createLedger();
  const made = createSequence({
    values: 3,
    ledger,
    startShiftS,
    onBlock(block) {
      t.push(...block.t.subarray(0, block.n));
      numbers.push(...block.v.subarray(0, block.n));
    },
  });
  for (const [k, rows] of files.entries()) {
    made.startFile(`${k}.csv`, coarse);
    const raw = createRawRows(3);
    for (const [row, [at, number]] of rows.entries()) {
      raw.t[row] = at;
      raw.values[0][row] = number;
      raw.line[row] = row + 1;
      raw.twin[row] = twins ? 1 : 0;
    }
    raw.n = rows.length;
    made.push(raw);
  }
  made.finish();
  expect(made.taken()).toBe(t.length);
  expect(made.lastT()).toBe(t.at(-1) ?? null);
  for (const [k, time] of t.entries()) if (k > 0) expect(time).toBeGreaterThanOrEqual(t[k - 1]);
  return { t, rows: numbers, faults: ledger.faults(), unsetS: made.unsetShiftS() };
}

const upTo = (n: number) => Array.from({ length: n }, (_, k) => k);

describe('time that goes on', () => {
  it('gives the rows as they are', () => {
    const { rows, faults } = sequence([run(0, 100)]);
    expect([rows, faults]).toEqual([upTo(100), []]);
  });

  it('has a gap where enough rows agree with the jump, and keeps their times', () => {
    const { t, rows, faults } = sequence([[...run(0, 50), ...run(50, 50, 3600)]]);
    expect([rows, faults]).toEqual([upTo(100), []]);
    expect(t[50]).toBeCloseTo(3605, 9);
  });

  it('takes a row written twice once, but where rows share times as a rule', () => {
    const twice: Row[] = [...run(0, 20), ...run(19, 1), ...run(20, 20)];
    expect(sequence([twice], { twins: true }).rows).toHaveLength(40);
    expect(sequence([twice], { twins: true }).faults).toMatchObject([{ kind: 'duplicate-rows', count: 1 }]);
    expect(sequence([twice], { twins: true, coarse: true }).rows).toHaveLength(41);
  });
});

describe('a stray time', () => {
  it('far ahead is left out, in the middle and at the end', () => {
    for (const rows of [[...run(0, 50), [9e4, 99], ...run(50, 50)] as Row[], [...run(0, 100), [9e4, 99]] as Row[]]) {
      const out = sequence([rows]);
      expect(out.rows).toEqual(upTo(100));
      expect(out.faults).toMatchObject([{ kind: 'out-of-order', count: 1 }]);
    }
  });

  it('at the very begin goes, where years lie between', () => {
    const out = sequence([[[2 * YEAR_S, 99], ...run(0, 1100)]]);
    expect(out.rows).toEqual(upTo(1100));
    expect(out.faults[0]).toMatchObject({
      kind: 'out-of-order',
      count: 1,
      found: 'a time far ahead of the rows after it',
    });
  });
});

describe('time that goes back', () => {
  it('for a few rows that were missing: they are put in their place', () => {
    const out = sequence([[...run(0, 40), ...run(43, 40), ...run(40, 3), ...run(83, 17)]]);
    expect(out.rows).toEqual(upTo(100));
    expect(out.faults).toMatchObject([{ kind: 'out-of-order', count: 3, found: 'put in its place' }]);
  });

  it('over a block that stands there already: it is left out', () => {
    const out = sequence([[...run(0, 60), ...run(30, 30), ...run(60, 40)]]);
    expect(out.rows).toEqual(upTo(100));
    expect(out.faults).toMatchObject([{ kind: 'duplicate-rows', count: 30 }]);
  });

  it('for good: the clock was set, and rows follow in their order, a step apart', () => {
    const out = sequence([[...run(0, 500), ...run(500, 1100, -200.05)]]);
    expect(out.rows).toEqual(upTo(1600));
    expect(out.faults).toMatchObject([{ kind: 'clock-jump', count: 1 }]);
    expect(out.faults[0].seconds).toBeCloseTo(199.95, 6);
    expect(out.t[500] - out.t[499]).toBeCloseTo(STEP_S, 6);
  });

  it('for so long as the hole behind it is wide: only those rows had another clock', () => {
    const out = sequence([[...run(0, 200), ...run(200, 50, -15.04), ...run(250, 50)]]);
    expect(out.rows).toEqual(upTo(300));
    expect(out.faults.map(({ kind }) => kind)).toEqual(['clock-jump']);
    expect(out.t[260]).toBeCloseTo(26, 6);
  });
});

describe('a clock that is not set', () => {
  const unset = [...run(0, 50), ...run(50, 50, 50 * YEAR_S)];

  it('jumps over years: rows follow, and it is said what would have put them right', () => {
    const out = sequence([unset]);
    expect(out.rows).toEqual(upTo(100));
    expect(out.t[50]).toBeCloseTo(5, 6);
    expect(out.unsetS).toBeCloseTo(50 * YEAR_S, 3);
    expect(out.faults[0].found).toContain('set forward');
  });

  it('is put right where that is added from the begin', () => {
    const out = sequence([unset], { startShiftS: 50 * YEAR_S });
    expect(out.t[0]).toBeCloseTo(50 * YEAR_S, 3);
    expect(out.t[99]).toBeCloseTo(50 * YEAR_S + 9.9, 3);
    expect(out.faults[0].found).toBe('the clock was put right');
  });
});

describe('a second file', () => {
  it('that begins before the first ends gives what is behind it alone', () => {
    const out = sequence([run(0, 60), run(40, 60)]);
    expect(out.rows).toEqual(upTo(100));
    expect(out.faults).toMatchObject([{ kind: 'overlap', count: 20 }]);
    expect(out.faults[0].seconds).toBeCloseTo(1.9, 6);
  });

  it('goes on with the clock of the first only where it goes on from it', () => {
    const set = [...run(0, 500), ...run(500, 1100, -200)];
    expect(sequence([set, run(1600, 10, -200)]).t.at(-1)).toBeCloseTo(160.9, 6);
    expect(sequence([set, run(1600, 10, 1e6)]).t.at(-1)).toBeCloseTo(1e6 + 160.9, 6);
  });
});
