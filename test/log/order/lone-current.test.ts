import { describe, expect, it } from 'vitest';
import { createLoneCurrentFilter } from '../../../src/log/order/lone-current.ts';
import { blockOf, type Row } from '../../analysis/blocks.ts';
import { csv, fault, read, samples, sessionWith } from '../helpers.ts';

/** Ten seconds at 10 Hz of a vehicle that draws 1 A, its voltage read to 10 mV and moving with every row. */
const REST: readonly Row[] = Array.from({ length: 100 }, (_, k) => ({ t: k / 10, v: 12.4 + 0.01 * (k % 3), i: -1 }));

/** The rest with other readings in the rows from 50 on. */
const with50 = (other: readonly Partial<Row>[], rows = REST) =>
  rows.map((row, k) => ({ ...row, ...other[k - 50] })) satisfies Row[];

interface Changes {
  readonly capacityAh?: number;
  readonly systemV?: 12 | 24;
}

/** Rows whose current is taken out, read in blocks of `size` rows with all that follows in sight. */
function takenOut(rows: readonly Row[], { capacityAh, systemV = 12 }: Changes = {}, size = rows.length): number[] {
  const { battery, vehicle } = sessionWith({ systemV });
  const told: number[] = [];
  const filter = createLoneCurrentFilter({ vehicle, battery: { ...battery, capacityAh } }, (t) => told.push(t));
  const { t, v, i, temp, ch } = blockOf(rows);
  const out: number[] = [];
  for (let from = 0; from < rows.length; from += size) {
    const n = Math.min(size, rows.length - from);
    const part = { n, t: t.subarray(from), v: v.subarray(from), i: i.subarray(from), temp, ch };
    filter.clean(part, rows.length - from);
    for (let k = 0; k < n; k++) if (Number.isNaN(part.i[k])) out.push(from + k);
  }
  expect(told).toEqual(out.map((k) => rows[k].t));
  return out;
}

describe('a large current that the voltage shows nothing of', () => {
  it('is taken out where it lasts for a row or two, in either direction', () => {
    expect(takenOut(with50([{ i: -312 }]))).toEqual([50]);
    expect(takenOut(with50([{ i: 250 }]))).toEqual([50]);
    expect(takenOut(with50([{ i: -312 }, { i: -290 }]))).toEqual([50, 51]);
  });

  it('is taken out alike wherever a block ends', () => {
    for (let size = 1; size <= 60; size++) {
      expect(takenOut(with50([{ i: -312 }, { i: -312 }]), {}, size).filter((k) => k > 1)).toEqual(
        size > 2 ? [50, 51] : [],
      );
    }
  });

  it('stays where it lasts longer, or does not end as it began', () => {
    expect(takenOut(with50([{ i: -312 }, { i: -312 }, { i: -312 }]))).toEqual([]);
    expect(takenOut(with50([{ i: -312 }, ...Array.from({ length: 49 }, () => ({ i: -60 }))]))).toEqual([]);
    expect(takenOut(with50(Array.from({ length: 50 }, () => ({ i: 120 }))))).toEqual([]);
  });

  it('stays at the end of the log, where nobody knows how it goes on', () => {
    expect(takenOut(with50([{ i: -312 }], REST.slice(0, 51)))).toEqual([]);
  });
});

describe('an event', () => {
  it('moves the voltage, in its row or in one beside it', () => {
    for (const dip of [{ v: 11.9 }, { v: 12.2 }]) {
      expect(takenOut(with50([{ i: -312, ...dip }]))).toEqual([]);
      expect(takenOut(with50([{ i: -312 }, dip]))).toEqual([]);
      expect(takenOut(with50([dip, { i: -312 }, {}]))).toEqual([]);
    }
  });

  it('may be a switching peak of some tens of amperes', () => {
    expect(takenOut(with50([{ i: -70 }]))).toEqual([]);
  });

  it('is one row in a slow log', () => {
    const slow = (stepS: number) => with50([{ i: -312 }]).map((row, k) => ({ ...row, t: k * stepS }));
    expect(takenOut(slow(1))).toEqual([]);
    expect(takenOut(slow(0.4))).toEqual([50]);
  });

  it('may be a gap in a starter’s draw', () => {
    const starter = REST.map((row) => ({ ...row, i: -180 }));
    expect(takenOut(with50([{ i: 0 }], starter))).toEqual([]);
  });

  it('shows less in a bank of batteries, and more in 24 V', () => {
    const dip = [{ v: 12.3, i: -312 }];
    expect(takenOut(with50(dip))).toEqual([50]);
    expect(takenOut(with50(dip), { capacityAh: 140 })).toEqual([]);
    const deeper = [{ v: 12.2, i: -312 }];
    expect(takenOut(with50(deeper))).toEqual([]);
    expect(takenOut(with50(deeper), { systemV: 24 })).toEqual([50]);
  });
});

describe('nothing is known where the voltage', () => {
  it('is not read in the row', () => {
    expect(takenOut(with50([{ v: Number.NaN, i: -312 }]))).toEqual([]);
    expect(
      takenOut(
        with50(
          [{ i: -312 }],
          REST.map((row) => ({ ...row, v: Number.NaN })),
        ),
      ),
    ).toEqual([]);
  });

  it('is read in steps as large as what would show', () => {
    const coarse = REST.map((row, k) => ({ ...row, v: 12.4 + 0.1 * (k % 2) }));
    expect(takenOut(with50([{ i: -312 }], coarse))).toEqual([]);
  });

  it('is read less often than the current, and repeated until then', () => {
    const repeated = REST.map((row, k) => ({ ...row, v: REST[k - (k % 10)].v }));
    expect(takenOut(with50([{ i: -312 }], repeated))).toEqual([]);
    // Also where earlier the rows came as seldom as the voltage does.
    const seldom = REST.map((row) => ({ ...row, t: row.t * 4 - 40 }));
    expect(takenOut([...seldom, ...with50([{ i: -312 }], repeated)], {}, 100)).toEqual([]);
  });
});

it('a wrong reading of a log is told with its time and what stood there, and its voltage is kept', async () => {
  const rows = samples(6000).map((row, k) => ({
    ...row,
    v: 12.6 + 0.01 * (k % 3),
    ...(k === 5000 ? { a: -312.5 } : {}),
  }));
  const { v, i, account } = await read(csv(rows));
  expect(i.flatMap((amps, k) => (Number.isNaN(amps) ? [k] : []))).toEqual([5000]);
  expect(v[5000]).toBeCloseTo(rows[5000].v, 9);
  expect(fault(account, 'out-of-range')).toMatchObject({ at: rows[5000].t, count: 1 });
  expect(fault(account, 'out-of-range').found).toBe('a: -312.5 A for a row or two, without a trace in the voltage');
});
