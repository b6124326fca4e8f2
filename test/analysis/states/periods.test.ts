import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { analysed, blockOf, hole, log, noisy, type Row, START, type Stretch, stretch } from '../blocks.ts';
import { asleep, charger, crank, draw, drive, keyOn, running, settling } from '../vehicle.ts';

/** Any life, likely or not: pieces in any order, at any step, with or without current. */
const life = fc.array(
  fc
    .tuple(
      fc.constantFrom('asleep', 'drive', 'crank', 'charger', 'off', 'hole', 'settling', 'running', 'key-on', 'wild'),
      fc.constantFrom(0.5, 1, 5, 30),
      fc.integer({ min: 20, max: 2000 }),
    )
    .map(([what, stepS, seconds]): Stretch[] => {
      if (what === 'asleep') return [asleep(seconds, stepS)];
      if (what === 'drive') return drive(seconds, stepS, Math.min(stepS, 0.1));
      if (what === 'crank') return [crank(1.2, 0.1)];
      if (what === 'charger') return [charger(seconds, stepS)];
      if (what === 'off') return [stretch(seconds, stepS, { v: 0.05, i: 0 })];
      if (what === 'hole') return [hole(seconds)];
      if (what === 'settling') return settling(stepS, seconds);
      if (what === 'running') return [running(seconds, stepS)];
      if (what === 'key-on') return [keyOn(seconds, stepS)];
      return [draw((_, n) => 40 * Math.sin(n * n), seconds, stepS)];
    }),
  { minLength: 1, maxLength: 12 },
);

describe('whatever the log, periods', () => {
  it('follow each other without overlap from the first row to the last, and their sums are the totals', () => {
    fc.assert(
      fc.property(life, fc.boolean(), (pieces, hasCurrent) => {
        const stretches = pieces.flat().map((part) => (hasCurrent ? part : { ...part, i: undefined }));
        const block = log(stretches);
        if (block.n === 0) return;
        const { periods, start, end, coveredS, missingS, totals, stands, cranks, drives } = analysed(block);
        expect([start, end]).toEqual([block.t[0], block.t[block.n - 1]]);
        if (block.n === 1) return;
        expect([periods[0].start, periods[periods.length - 1].end]).toEqual([start, end]);
        for (let k = 1; k < periods.length; k++) {
          expect(periods[k].start).toBe(periods[k - 1].end);
          expect(periods[k].end).toBeGreaterThan(periods[k].start);
        }
        const seconds = (...kinds: string[]) =>
          periods.reduce((sum, p) => sum + (kinds.includes(p.kind) ? p.end - p.start : 0), 0);
        expect(coveredS + missingS).toBeCloseTo(end - start, 6);
        expect(missingS).toBeCloseTo(seconds('no-data'), 6);
        expect(totals.drivingS).toBeCloseTo(seconds('driving'), 6);
        expect(totals.parkedS).toBeCloseTo(seconds('asleep', 'awake', 'settling'), 6);
        expect(stands.reduce((sum, stand) => sum + stand.countedS, 0)).toBeCloseTo(totals.parkedS, 6);
        for (const { chargeInAh, chargeOutAh } of [...periods, ...stands, ...drives, totals]) {
          expect(chargeInAh).toBeGreaterThanOrEqual(0);
          expect(chargeOutAh).toBeGreaterThanOrEqual(0);
        }
        for (const { at, voltsMin, voltsBefore } of cranks) {
          expect(at).toBeGreaterThanOrEqual(start);
          expect(at).toBeLessThanOrEqual(end);
          expect(voltsMin).toBeLessThan(voltsBefore);
        }
      }),
      { numRuns: 60 },
    );
  });
});

describe('the net charge of all periods', () => {
  it('is the area under the current, whatever it is called', () => {
    const stretches = [asleep(3600, 1), ...drive(900, 1, 0.02), ...settling(1), charger(1800, 1), asleep(3600, 1)];
    const block = log(stretches);
    let areaAs = 0;
    for (let k = 1; k < block.n; k++) areaAs += 0.5 * (block.i[k] + block.i[k - 1]) * (block.t[k] - block.t[k - 1]);
    const { periods } = analysed(block);
    const netAh = periods.reduce((sum, period) => sum + period.chargeInAh - period.chargeOutAh, 0);
    expect(netAh).toBeCloseTo(areaAs / 3600, 6);
  });

  it('does not count the noise of a sensor at rest as charge in and out', () => {
    const noise = (_: number, n: number) => 0.02 * (n % 2 ? 1 : -1);
    const { totals } = analysed(log([stretch(36_000, 1, { v: 12.6, i: noise })]));
    expect(totals.chargeInAh + totals.chargeOutAh).toBeLessThan(0.005);
  });
});

describe('the smallest logs', () => {
  const row = (s: number): Row => ({ t: START + s, v: 12.5, i: -0.02, temp: 15 });

  it('of one row begins and ends at it and covers no time', () => {
    const { start, end, coveredS, stands, wakes, cranks } = analysed(blockOf([row(0)]));
    expect({ start, end, coveredS }).toEqual({ start: START, end: START, coveredS: 0 });
    expect([stands.length <= 1, wakes, cranks]).toEqual([true, [], []]);
  });

  it('of two rows is one period', () => {
    expect(analysed(blockOf([row(0), row(1)])).periods).toHaveLength(1);
  });

  it('of rows without any reading is no data', () => {
    const rows = Array.from({ length: 100 }, (_, k): Row => ({ t: START + k, v: Number.NaN }));
    const { periods, has, coveredS } = analysed(blockOf(rows));
    expect(periods.map((period) => period.kind)).toEqual(['no-data']);
    expect([has.current, coveredS]).toEqual([false, 0]);
  });

  it('of no rows at all is analysed without a fault', () => {
    expect(analysed(blockOf([])).periods).toEqual([]);
  });
});

it('a balance is no surer than the steps of the log, unless noise takes a draw over several of them', () => {
  const stepped = (noiseA: number) => {
    const night = stretch(86_400, 10, { v: 12.4, i: noisy(-0.03, noiseA) });
    const block = log([...drive(300, 1), ...settling(1), night]);
    for (let k = 0; k < block.n; k++) block.i[k] = Math.round(block.i[k] * 10) / 10;
    return analysed(block).totals.chargeOutU.u;
  };
  // 0.1 A / √12 over a day.
  expect(stepped(0.001)).toBeGreaterThan(0.69);
  expect(stepped(0.1)).toBeLessThan(stepped(0.001) / 3);
});
