import { describe, expect, it } from 'vitest';
import { csv, fault, kinds, read, type Sample, samples, sessionWith } from '../helpers.ts';

/** A quarter of an hour at 1 Hz, with a crank of 300 A after five minutes and charging from then on. */
const DRIVE: readonly Sample[] = samples(900, { step: 1 }).map((row, k) => {
  if (k < 300) return row;
  if (k < 303) return { ...row, v: Number((9.5 + row.a).toFixed(3)), a: -300 + row.a };
  return { ...row, v: Number((row.v + 1.7).toFixed(3)), a: 20 + row.a };
});

describe('a channel that stands still', () => {
  it('is told where the current does not follow the voltage', async () => {
    const frozen = DRIVE.map((row, k) => (k >= 100 ? { ...row, a: -0.0213 } : row));
    const { i, account } = await read(csv(frozen));
    expect(kinds(account)).toEqual(['frozen']);
    expect(fault(account, 'frozen')).toMatchObject({ at: DRIVE[100].t, seconds: 799, count: 800 });
    expect(fault(account, 'frozen').found).toBe('a stands still while the voltage moves');
    // Told, not taken out.
    expect(i.some(Number.isNaN)).toBe(false);
  });

  it('is told where the voltage does not follow the current', async () => {
    const { account } = await read(csv(DRIVE.map((row) => ({ ...row, v: 12.6 }))));
    expect(account.faults).toMatchObject([{ kind: 'frozen', found: 'v stands still while the current moves' }]);
  });

  it('is not a vehicle asleep, though its voltage sinks for days', async () => {
    const asleep = samples(3000, { step: 60 }).map((row, k) => ({ ...row, v: 12.8 - k / 1000, a: -0.02 }));
    expect((await read(csv(asleep))).account.faults).toEqual([]);
    expect((await read(csv(DRIVE))).account.faults).toEqual([]);
  });
});

describe('a supply that flaps', () => {
  const flapping = DRIVE.map((row, k) => (k >= 600 && k < 640 ? { ...row, v: [0.3, 25.1, 11.9][k % 3] } : row));

  it('is taken out', async () => {
    const { t, v, account } = await read(csv(flapping));
    expect(t).toHaveLength(900);
    const out = v.flatMap((volts, k) => (Number.isNaN(volts) ? [k] : []));
    expect(out).toEqual(flapping.flatMap(({ v: volts }, k) => (volts < 1 || volts > 25 ? [k] : [])));
    expect(account.faults).toMatchObject([{ kind: 'out-of-range', count: out.length, at: DRIVE[600].t }]);
  });

  it('makes later readings that high unbelievable too', async () => {
    const later = flapping.map((row, k) => (k >= 700 && k < 720 ? { ...row, v: 24.1 } : row));
    const { v } = await read(csv(later));
    expect(v.slice(700, 720).every(Number.isNaN)).toBe(true);
    expect(v.slice(720).some(Number.isNaN)).toBe(false);
  });

  it('is not a battery taken off, nor one helped by a truck', async () => {
    const off = DRIVE.map((row, k) => (k >= 600 && k < 640 ? { ...row, v: 0.2, a: 0 } : row));
    const truck = DRIVE.map((row, k) => (k >= 600 && k < 640 ? { ...row, v: 25 } : row));
    expect((await read(csv(off))).v).toEqual(off.map(({ v }) => v));
    expect((await read(csv(truck))).v).toEqual(truck.map(({ v }) => v));
  });

  it('is judged by the voltage of the system', async () => {
    const { v } = await read(csv(flapping), sessionWith({ systemV: 24 }));
    expect(v).toEqual(flapping.map((row) => row.v));
  });
});
