import { expect, it } from 'vitest';
import { createLedger } from '../../../src/log/order/ledger.ts';

const out = { kind: 'out-of-range', file: 'log.csv', key: 'v' } as const;

it('makes one entry of like faults next to each other, and another of one far away', () => {
  const ledger = createLedger();
  ledger.tell({ ...out, at: 100, line: 10, found: '99 V' });
  ledger.tell({ ...out, at: 130, line: 13 });
  ledger.tell({ ...out, at: 5000, line: 500 });
  expect(ledger.faults()).toEqual([
    { kind: 'out-of-range', at: 100, count: 2, seconds: 0, file: 'log.csv', line: 10, found: '99 V' },
    { kind: 'out-of-range', at: 5000, count: 1, seconds: 0, file: 'log.csv', line: 500, found: undefined },
  ]);
});

it('keeps faults of different columns, and those that stand alone, apart', () => {
  const ledger = createLedger();
  ledger.tell({ ...out, at: 100 });
  ledger.tell({ ...out, at: 101, key: 'i' });
  ledger.tell({ kind: 'clock-jump', at: 101, seconds: 3600, alone: true });
  ledger.tell({ kind: 'clock-jump', at: 102, seconds: 3600, alone: true });
  expect(ledger.faults().map(({ count }) => count)).toEqual([1, 1, 1, 1]);
});

it('stays small however much is wrong, and loses no count', () => {
  const ledger = createLedger();
  for (let k = 0; k < 10_000; k++) ledger.tell({ ...out, at: k * 1000, line: k * 100 });
  const faults = ledger.faults();
  expect(faults.length).toBe(40);
  expect(faults.reduce((sum, { count }) => sum + count, 0)).toBe(10_000);
});

it('gives them in order of time; one without a time stands behind what was told before it', () => {
  const ledger = createLedger();
  ledger.tell({ kind: 'gap', at: 900, seconds: 60 });
  ledger.tell({ kind: 'unreadable-row', at: null, line: 7 });
  ledger.tell({ kind: 'out-of-order', at: 100 });
  expect(ledger.faults().map(({ kind }) => kind)).toEqual(['out-of-order', 'gap', 'unreadable-row']);
});
