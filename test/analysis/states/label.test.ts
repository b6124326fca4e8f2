/** The whole reading, from rows to periods. */
import { expect, it } from 'vitest';
import { analysed, log, noisy, type Stretch, stretch } from '../blocks.ts';
import { asleep, drive, OHM, OPEN_V, settling } from '../vehicle.ts';

const HOUR = 3600;
const hoursOf = (stretches: readonly Stretch[]) => {
  const { periods } = analysed(log(stretches));
  return (kind: string) => periods.filter((p) => p.kind === kind).reduce((sum, p) => sum + (p.end - p.start) / HOUR, 0);
};

it('no day of sun and clouds over a fridge that comes and goes is a drive, in a log that shows the starts', () => {
  const trip = [asleep(HOUR, 2), ...drive(1200, 1, 0.05), ...settling(2), asleep(HOUR, 2)];
  // Up to 9 A from a panel, less by clouds from row to row; 3.6 A for ten minutes of each 37.
  const cloud = noisy(0, 0.12, 3);
  const sun = (s: number) => 9 * Math.max(0, Math.sin((Math.PI * s) / (12 * HOUR)));
  const fridge = (s: number) => (s % 2220 < 600 ? 3.6 : 0.08);
  const amps = (s: number, n: number) => {
    const passing = 0.75 + 0.25 * Math.sign(Math.sin(s / 431)) + (typeof cloud === 'function' ? 0.3 * cloud(s, n) : 0);
    return sun(s) * passing - fridge(s);
  };
  const day = stretch(12 * HOUR, 5, {
    v: (s, n) => Math.min(14.3, OPEN_V + OHM * amps(s, n) + 0.9 * Math.max(0, sun(s) - fridge(s)) ** 0.3),
    i: (s, n) => (amps(s, n) > 4 ? 4 + 0.02 * (amps(s, n) - 4) : amps(s, n)),
  });
  const hours = hoursOf([...trip, ...trip, day, asleep(2 * HOUR, 5)]);
  expect(hours('driving')).toBeLessThan(1.2);
});
