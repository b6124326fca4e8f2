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

/** Fed at 14.3 V, far more calmly than an engine's consumers make it. */
const calm = (seconds: number) => stretch(seconds, 5, { v: noisy(14.3, 0.004, 3), i: noisy(1, 0.06, 4) });
const trip = () => [asleep(HOUR, 2), ...drive(1200, 1, 0.05)];

it('a drive ends where its consumers cease and the sun feeds on, as it does on other days of the log without a start', () => {
  const left = [calm(2 * HOUR), asleep(2 * HOUR, 5)];
  const sunny = [calm(3 * HOUR), asleep(2 * HOUR, 5)];
  const hours = hoursOf([...trip(), ...left, ...trip(), ...settling(2), asleep(HOUR, 2), ...sunny]);
  expect(hours('driving')).toBeLessThan(0.8);
  expect(hours('driving')).toBeGreaterThan(0.6);
});

it('whoever waits with the engine running has not parked, where nothing else has fed in the log', () => {
  const waits = [calm(2 * HOUR), ...settling(2), asleep(2 * HOUR, 5)];
  const hours = hoursOf([...trip(), ...waits, ...trip(), ...settling(2), asleep(5 * HOUR, 2)]);
  expect(hours('driving')).toBeGreaterThan(2.5);
});
