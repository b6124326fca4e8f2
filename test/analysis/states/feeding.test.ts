import { expect, it } from 'vitest';
import type { Lift } from '../../../src/analysis/cranks/lift.ts';
import { findFeeding } from '../../../src/analysis/states/feeding.ts';
import { quietFloor } from '../../../src/analysis/states/restless.ts';
import { hole, log, noisy, type SessionWishes, type Stretch, sessionWith, stretch, tilesOf } from '../blocks.ts';

/** Seconds that the battery is told to be fed. */
function fedS(stretches: readonly Stretch[], wishes: SessionWishes = {}, lifts: readonly Lift[] = []): number {
  const tiles = tilesOf(log(stretches));
  const session = sessionWith(wishes);
  const fed = findFeeding(tiles, session, quietFloor(tiles, session), lifts);
  return fed.reduce((sum, one, k) => sum + one * (tiles.t1[k] - tiles.t0[k]), 0);
}

/** The same of a log without current, whose starts lift the voltage so. */
function fedAloneS(volts: readonly (readonly [seconds: number, v: number])[], restV: number, toV: number): number {
  const stretches = volts.map(([seconds, v]) => stretch(seconds, 1, { v: noisy(v, 0.002, 2) }));
  return fedS(stretches, {}, [{ restV, toV }]);
}

const rest = (seconds: number, v = 12.6) => stretch(seconds, 1, { v: noisy(v, 0.002, 2), i: noisy(-0.02, 0.002) });
const fed = (seconds: number, v: number, i: number) => stretch(seconds, 1, { v: noisy(v, 0.01, 2), i: noisy(i, 0.1) });

it('a current into the battery at a charging voltage feeds it', () => {
  expect(Math.abs(fedS([rest(600), fed(1200, 14.2, 8), rest(600)]) - 1200)).toBeLessThan(20);
});

it('a battery just off charge keeps a high voltage, and nothing feeds it', () => {
  expect(fedS([rest(3600, 12.95)])).toBe(0);
});

it('an engine that only just carries its consumers shows in the voltage', () => {
  expect(fedS([rest(600), fed(1200, 14.2, 0), rest(600)])).toBeGreaterThan(1180);
});

it('a draw ends it, and so does a long hole', () => {
  expect(fedS([fed(600, 14.2, 8), hole(7200), rest(600)])).toBeLessThan(620);
  expect(fedS([rest(600), fed(600, 14.2, 8), fed(600, 12.4, -8)])).toBeLessThan(620);
});

it('lithium iron phosphate rests as high as a lead battery is charged', () => {
  const resting = [rest(3600, 13.3)];
  expect(fedS(resting, { battery: { chemistry: 'lfp' } })).toBe(0);
});

it('voltages scale with the system', () => {
  const at24V = { vehicle: { systemV: 24 } } as const;
  expect(fedS([rest(600, 25.2), fed(1200, 28.4, 8), rest(600, 25.2)], at24V)).toBeGreaterThan(1180);
  expect(fedS([rest(3600, 25.9)], at24V)).toBe(0);
});

it('lithium iron phosphate that was charged full rests at a charging voltage: what nothing lifts again, nothing feeds', () => {
  const lfp = { battery: { chemistry: 'lfp' } } as const;
  const still = (from: number, to: number, seconds: number) =>
    stretch(seconds, 2, { v: noisy((s) => from + ((to - from) * s) / seconds, 0.003, 2), i: noisy(-0.002, 0.0005) });
  const ridden = [rest(600, 13.3), fed(1200, 14.2, 3)];
  const falling = [still(13.95, 13.82, 300), still(13.815, 13.795, 600), still(13.795, 13.7, 3600)];
  expect(fedS([...ridden, ...falling], lfp)).toBeLessThan(1220);
  // A charger that is put on lifts it.
  const floated = [...ridden, still(13.95, 13.8, 300), still(13.78, 13.5, 3600), still(13.85, 13.85, 3000)];
  expect(fedS(floated, lfp)).toBeGreaterThan(4100);
});

it('a battery that rests at a charging voltage whatever its label says is not charged while milliamperes are drawn', () => {
  const drawn = (amps: number, seconds: number, v = 13.42) =>
    stretch(seconds, 1, { v: noisy(v - 0.008 * amps, 0.003, 2), i: noisy(-amps, 0.002) });
  const parked = [
    drawn(5, 60),
    drawn(0.9, 300),
    drawn(0.16, 300),
    drawn(0.017, 7200),
    drawn(5, 60),
    drawn(0.017, 7200),
  ];
  expect(fedS([fed(1200, 14.2, 3), ...parked])).toBeLessThan(1220);
});

it('without current a meter that reads low is fed at what its starts lift it to, and surface charge feeds nobody’s', () => {
  expect(
    Math.abs(
      fedAloneS(
        [
          [600, 11.4],
          [1200, 12.9],
          [600, 11.5],
        ],
        11.4,
        12.9,
      ) - 1200,
    ),
  ).toBeLessThan(20);
  // From an empty battery it is lifted far: 12.9 V just off charge is more than a part of that.
  expect(
    Math.abs(
      fedAloneS(
        [
          [600, 12],
          [1200, 14],
          [3600, 12.9],
        ],
        12,
        14,
      ) - 1200,
    ),
  ).toBeLessThan(20);
});

it('a charger that floats a full battery after it filled it feeds it, however little flows in', () => {
  const floating = (amps: number) => stretch(12 * 3600, 5, { v: noisy(13.6, 0.002, 2), i: noisy(amps, 0.001) });
  const filled = [rest(600), fed(3600, 14.4, 2), stretch(60, 1, { v: (s) => 14.4 - 0.013 * s, i: 0.004 })];
  expect(fedS([...filled, floating(0.015)])).toBeGreaterThan(13 * 3600 - 1300);
  // What rests there by itself has nothing flowing in, or its own milliamperes out.
  expect(fedS([...filled, floating(-0.015)])).toBeLessThan(3700);
  expect(fedS([...filled, floating(0.015)], { battery: { chemistry: 'lfp' } })).toBeLessThan(3700);
});
