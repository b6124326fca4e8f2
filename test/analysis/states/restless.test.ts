import { expect, it } from 'vitest';
import { quietFloor, restlessness } from '../../../src/analysis/states/restless.ts';
import { log, noisy, sessionWith, stretch, tilesOf } from '../blocks.ts';

const still = stretch(3600, 1, { v: noisy(12.6, 0.002, 2), i: noisy(-0.02, 0.001) });
const busy = stretch(3600, 1, { v: noisy(14.2, 0.05, 2), i: noisy(5, 0.5) });

// Neighbouring readings of white noise differ by 2/√π standard deviations in the mean.
it('is the mean change from reading to reading', () => {
  // So many readings a tile that its mean is that of the noise.
  const tiles = tilesOf(log([{ ...busy, seconds: 600, stepS: 0.02 }]));
  const { amps, volts } = restlessness(tiles, { first: 0, last: tiles.n - 1 });
  expect(amps / ((0.5 * 2) / Math.sqrt(Math.PI))).toBeCloseTo(1, 1);
  expect(volts / ((0.05 * 2) / Math.sqrt(Math.PI))).toBeCloseTo(1, 1);
});

it('the quietest tenth of the log shows what the sensor itself makes', () => {
  const { amps } = quietFloor(tilesOf(log([busy, busy, still])), sessionWith());
  expect(amps).toBeLessThan(0.002);
});

it('in a log that is never quiet the stated accuracy is the bound', () => {
  expect(quietFloor(tilesOf(log([busy])), sessionWith()).amps).toBe(0.002);
});
