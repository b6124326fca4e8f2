import { expect, it } from 'vitest';
import type { RawCrank } from '../../../src/analysis/cranks/raw-crank.ts';
import { partStarts } from '../../../src/analysis/cranks/starter.ts';

const USUAL = {
  at: 0,
  seconds: 1,
  recovered: true,
  ampsMean: 200,
  ampsPeak: 500,
  ampsBefore: 8,
  voltsBefore: 12.5,
  voltsMin: 9,
};
const found = (change: Partial<RawCrank>) => ({ ...USUAL, ...change }) as RawCrank;
const isLoad = (one: Partial<RawCrank>) => partStarts([found({ at: -3600 }), found(one)], [], 1).loads.length === 1;

it('an engine that ran after it shows a start, whatever was drawn', () => {
  expect(isLoad({ seconds: 40, ampsMean: 60, ampsPeak: 60, ampsBefore: 0 })).toBe(false);
});

it('a draw well below that of this vehicle’s starts is a load, the longer it lasts the sooner', () => {
  expect(isLoad({ recovered: false, ampsMean: 90 })).toBe(true);
  expect(isLoad({ recovered: false, ampsMean: 120 })).toBe(false);
  expect(isLoad({ recovered: false, ampsMean: 120, seconds: 6 })).toBe(true);
});

it('nobody turns the starter for long without the ignition, or evenly for longer than ten seconds', () => {
  expect(isLoad({ recovered: false, seconds: 8, ampsBefore: 0.1 })).toBe(true);
  expect(isLoad({ recovered: false, seconds: 8 })).toBe(false);
  expect(isLoad({ recovered: false, seconds: 15, ampsPeak: 220 })).toBe(true);
  expect(isLoad({ recovered: false, seconds: 15 })).toBe(false);
});

it('where no current tells, it stays a start', () => {
  expect(isLoad({ recovered: false, seconds: 30, ampsMean: null, ampsPeak: null })).toBe(false);
});

it('an intake heater that pulses right after the starter is none, though the engine charges between its pulses', () => {
  const { cranks, loads } = partStarts(
    [
      found({ ampsMean: 380, voltsMin: 10.5, recovered: false }),
      found({ at: 4, ampsMean: 125, voltsMin: 11.8, seconds: 1 }),
      found({ at: 20, ampsMean: 70, voltsMin: 12.4, seconds: 7 }),
      // A start that follows soon draws as much as the first, and pulls down.
      found({ at: 90, ampsMean: 300, voltsMin: 10.8 }),
      found({ at: 100, ampsMean: 160, voltsMin: 11.2 }),
    ],
    [],
    1,
  );
  expect(cranks.map(({ at }) => at)).toEqual([0, 90, 100]);
  expect(loads.length).toBe(2);
});

it('what draws little for seconds and leaves the voltage up turned no engine', () => {
  const steering = { seconds: 30, rows: 300, ampsMean: 90, ampsPeak: 130, voltsMin: 12.4 };
  expect(isLoad(steering)).toBe(true);
  expect(isLoad({ ...steering, voltsMin: 10.5 })).toBe(false);
  // Rows far apart tell no more of a start than that there was one.
  expect(isLoad({ ...steering, rows: 15 })).toBe(false);
});

it('a steering burst while the regulator has let go is no start, however charged the battery is after it', () => {
  const starts = [0, 5000, 9000].map((at) => found({ at }));
  const burst = found({ at: 7000, seconds: 0.8, ampsMean: 95, ampsPeak: 109, voltsBefore: 12.6, voltsMin: 12.3 });
  const told = (all: readonly RawCrank[]) => partStarts(all, [], 1).cranks.length;
  expect(told([...starts, burst])).toBe(3);
  // Where hardly a start is seen nothing says what is usual.
  expect(told([starts[0], burst])).toBe(2);
  // A warm engine's start takes less than most, and pulls down all the same.
  expect(told([...starts, found({ at: 7000, ampsMean: 95, voltsMin: 11.2 })])).toBe(4);
});

it('a lift with the engine off is no start, also where it is used more often than the starter', () => {
  const starts = [0, 5000, 9000].map((at) => found({ at, voltsMin: 10.8 }));
  const lifts = Array.from({ length: 6 }, (_, k) =>
    found({ at: 3000 + 60 * k, seconds: 7, ampsMean: 166, ampsPeak: 200, recovered: false, voltsMin: 12.2 }),
  );
  const all = [...starts, ...lifts].toSorted((a, b) => a.at - b.at);
  expect(partStarts(all, [], 1).cranks.length).toBe(3);
  // A starter that turned for as long in vain shows its inrush.
  const tried = found({ at: 9500, seconds: 7, ampsMean: 166, recovered: false, voltsMin: 10.9 });
  expect(partStarts([...all, tried], [], 1).cranks.length).toBe(4);
});

it('loads come in order of time, with their draw', () => {
  const winch = { at: 500, seconds: 20, meanA: 150, voltsMin: 11 };
  const { loads } = partStarts([found({ at: 100, recovered: false, seconds: 30, ampsPeak: 210 })], [winch], 1);
  expect(loads).toEqual([{ at: 100, seconds: 30, meanA: 200, voltsMin: 9 }, winch]);
});
