/** One start made of a resistance and a starter whose currents are known. */
import { describe, expect, it } from 'vitest';
import { measureCrank, measureLoad } from '../../../src/analysis/cranks/crank-measure.ts';
import type { Row } from '../../../src/analysis/cranks/raw-crank.ts';

const OHM = 0.006;
const OPEN_V = 12.6;
const AT = 10;
const STEP_S = 0.02;
/** Inrush, then compressions about 180 A for `seconds`. */
const starterA = (s: number, seconds: number) =>
  s < 0 || s >= seconds ? 0 : s < 0.06 ? 500 : 180 + 40 * Math.cos((2 * Math.PI * s) / 0.2);

interface Told {
  readonly seconds?: number;
  /** Drawn besides, s seconds after the starter begins. */
  readonly other?: (s: number) => number;
  readonly after?: number;
  readonly sign?: 1 | -1;
}

function rowsOf({ seconds = 1.2, other = () => 0.5, after = 14, sign = -1 }: Told = {}): Row[] {
  return Array.from({ length: 500 }, (_, k) => {
    const s = k * STEP_S - 4;
    const amps = starterA(s, seconds) + other(s);
    const runs = s >= seconds + 0.1;
    return [AT + s, runs ? after : OPEN_V - OHM * amps, sign * (runs && after > 13 ? -20 : amps), 15];
  });
}

const RULES = { scale: 1, chargedV: 13.2, strict: false, byVoltage: false, wave: true };
const measured = (told: Told = {}, rules: Partial<typeof RULES> = {}) =>
  measureCrank(rowsOf(told), AT, AT + (told.seconds ?? 1.2) - STEP_S, { ...RULES, ...rules });

describe('a start', () => {
  it('is where its current is, as long as it, and as deep', () => {
    const crank = measured();
    expect(crank?.at).toBeCloseTo(AT, 6);
    expect(crank?.seconds).toBeCloseTo(1.2, 6);
    expect(crank?.ampsPeak).toBeCloseTo(500.5, 6);
    expect(crank?.voltsMin).toBeCloseTo(OPEN_V - OHM * 500.5, 6);
    expect(crank?.voltsBefore).toBeCloseTo(OPEN_V - OHM * 0.5, 6);
    expect(crank).toMatchObject({ sign: -1, recovered: true, isFlat: false, temperatureC: 15 });
  });

  it('has the plateau after the inrush and the resistance that it was made of', () => {
    const crank = measured();
    const settled = Array.from({ length: 45 }, (_, k) => 0.3 + k * STEP_S);
    const meanV = settled.reduce((sum, s) => sum + OPEN_V - OHM * (starterA(s, 1.2) + 0.5), 0) / settled.length;
    expect(crank?.plateau?.volts).toBeCloseTo(meanV, 2);
    expect(crank?.resistance?.ohm).toBeCloseTo(OHM, 5);
    expect(crank?.resistance?.scatterU).toBeLessThan(1e-4);
  });

  it('has no plateau where it is over with the inrush', () => {
    expect(measured({ seconds: 0.3 })).toMatchObject({ plateau: null, resistance: null });
  });

  it('keeps its waveform from a second before to three after, where asked', () => {
    const wave = measured()?.wave.t;
    expect(wave?.at(0)).toBeCloseTo(AT - 1, 1);
    expect(wave?.at(-1)).toBeCloseTo(AT + 1.2 + 3, 1);
    expect(measured({}, { wave: false })?.wave.t).toHaveLength(0);
  });

  it('takes the sign of the log, and none where voltage alone tells it', () => {
    expect(measured({ sign: 1 })?.sign).toBe(1);
    expect(measured({}, { byVoltage: true })).toMatchObject({
      sign: 0,
      ampsPeak: null,
      ampsMean: null,
      resistance: null,
    });
  });
});

describe('what is not the starter’s', () => {
  it('glow plugs that lead into it', () => {
    const rows = rowsOf({ other: (s) => (s < 0 ? 55 : 0.5) });
    expect(measureCrank(rows, AT - 3, AT + 1.18, RULES)?.at).toBeCloseTo(AT, 6);
  });

  it('a fan that runs on after it', () => {
    const rows = rowsOf({ other: (s) => (s >= 1.2 ? 45 : 0.5), after: 12 });
    expect(measureCrank(rows, AT, AT + 3, RULES)?.seconds).toBeCloseTo(1.2, 6);
  });

  it('a pump: its draw stands still, and it is told so', () => {
    const flat: Row[] = Array.from({ length: 500 }, (_, k) => {
      const s = k * STEP_S - 4;
      const amps = s >= 0 && s < 1.2 ? 200 : 0.5;
      return [AT + s, OPEN_V - OHM * amps, -amps, 15];
    });
    expect(measureCrank(flat, AT, AT + 1.18, RULES)?.isFlat).toBe(true);
  });
});

it('a load has its mean, its lowest voltage and the time to the row after its last', () => {
  const load = measureLoad(
    rowsOf({ seconds: 0, other: (s) => (s >= 0 && s < 2 ? 60 : 0.5), after: 12 }),
    AT,
    AT + 0.08,
  );
  expect(load?.meanA).toBeCloseTo(60, 6);
  expect(load?.seconds).toBeCloseTo(0.1, 6);
  expect(load?.voltsMin).toBeCloseTo(OPEN_V - OHM * 60, 6);
});

it('a clock that counts whole seconds hides no start: its rows of one time last until the next', () => {
  const rows = rowsOf({ seconds: 0.9 }).map(([t, ...rest]): Row => [Math.floor(t), ...rest]);
  const crank = measureCrank(rows, AT, AT, RULES);
  expect(crank?.at).toBe(AT);
  expect(crank?.seconds).toBe(1);
});

it('a logger that writes one reading again until the next shows no plateau: it may have been the inrush', () => {
  const held = (volts: readonly number[]): Row[] => volts.map((v, k) => [AT + k, v, Number.NaN, 15]);
  const plateauOf = (...cranking: readonly number[]) =>
    measureCrank(held([12.2, 12.2, 12.2, ...cranking, 11.7, 14.1, 14.1, 14.1]), AT + 3, AT + 6, RULES)?.plateau;
  expect(plateauOf(7.56, 7.56, 7.56, 7.56)).toBeNull();
  expect(plateauOf(7.9, 9.71, 9.84, 9.9)?.volts).toBeCloseTo(9.8, 0);
});
