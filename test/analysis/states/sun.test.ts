import { expect, it } from 'vitest';
import { analysed, log, noisy, type Stretch } from '../blocks.ts';
import { draw } from '../vehicle.ts';

const HOUR = 3600;
/** Three days from six in the morning on, `sleepA` by night and a panel of `peakA` from eight to six. */
function sunny(sleepA: number, peakA: number, steps = 60): Stretch[] {
  const hourOf = (s: number) => (6 + s / HOUR) % 24;
  const sun = (s: number) => Math.max(0, peakA * Math.sin(((hourOf(s) - 8) / 10) * Math.PI));
  return [
    draw(
      noisy((s) => sleepA - sun(s), 0.0005),
      72 * HOUR,
      steps,
    ),
  ];
}
const read = (stretches: readonly Stretch[]) => {
  const { periods, stands } = analysed(log(stretches));
  const hours = (kind: string) =>
    periods.filter((p) => p.kind === kind).reduce((sum, p) => sum + (p.end - p.start) / HOUR, 0);
  return { periods, hours, sleepA: stands[0]?.sleepDrawA?.value ?? Number.NaN };
};

it('the sun on a parked vehicle is fed, also where it gives less than is drawn: the draw asleep is that of the nights', () => {
  for (const [sleepA, peakA] of [
    [0.03, 0.015],
    [0.03, 0.12],
    [0.2, 0.15],
    [0.02, 1.4],
    [0.19, 1.6],
  ] as const) {
    const { hours, sleepA: foundA } = read(sunny(sleepA, peakA));
    expect(Math.abs(foundA - sleepA)).toBeLessThan(0.04 * sleepA);
    expect(Math.abs(hours('on-charger') - 28)).toBeLessThan(6);
    expect(hours('asleep')).toBeGreaterThan(38);
  }
});

it('what rests before and after a charger, far below a load that was on for hours, is not fed', () => {
  const amps = (a: number, hours: number) => draw(noisy(a, 0.0005), hours * HOUR, 60);
  const { hours, periods } = read([
    amps(0.008, 2),
    amps(1, 8),
    amps(0.02, 2),
    amps(-2, 5),
    amps(0.008, 2),
    amps(1, 8),
    amps(0.02, 2),
  ]);
  expect(Math.abs(hours('on-charger') - 5)).toBeLessThan(0.1);
  expect(periods.filter((p) => p.kind === 'awake').length).toBe(2);
});

it('where nothing flows in it says so, and is less sure', () => {
  const fed = read(sunny(0.03, 0.015)).periods.filter((p) => p.kind === 'on-charger');
  expect(fed.length).toBeGreaterThan(1);
  for (const { evidence, certainty } of fed) {
    expect(evidence).toContain('below-sleeping-level');
    expect(certainty).toBeLessThan(1);
  }
});

it('a zero that drifts with the warmth of the day is no sun', () => {
  // The warmest hour is at three; nights cool down all the while.
  const zero = (s: number) => 0.03 - 0.006 * Math.cos(((s / HOUR + 6 - 15) / 12) * Math.PI);
  const drifting = draw(noisy(zero, 0.0005), 72 * HOUR, 60);
  expect(read([drifting]).hours('on-charger')).toBe(0);
});

it('a module that goes to sleep for some hours and comes back is no sun', () => {
  const levels = [0.06, 0.02, 0.06, 0.02, 0.06].map((amps) => draw(noisy(amps, 0.0005), 9 * HOUR, 60));
  expect(read(levels).hours('on-charger')).toBe(0);
});

it('a dusk in which a panel still carries most of the draw for an hour is fed, and what comes back is no load that came on', () => {
  // From midnight on: a day of full sun, and shoulders in which it carries three quarters.
  const sun = (s: number) => {
    const hour = (s / HOUR) % 24;
    if (hour < 6 || hour >= 18) return 0;
    const shoulder = Math.min(hour - 6, 18 - hour);
    return shoulder < 0.5 ? 0.46 * shoulder : shoulder < 1 ? 0.23 : Math.min(1.2, 0.23 + 2 * (shoulder - 1));
  };
  const { periods, hours, sleepA } = read([
    draw(
      noisy((s) => 0.31 - sun(s), 0.004),
      96 * HOUR,
      60,
    ),
  ]);
  expect(Math.abs(sleepA - 0.31)).toBeLessThan(0.01);
  expect(hours('asleep')).toBeGreaterThan(44);
  expect(periods.filter(({ kind }) => kind === 'awake')).toEqual([]);
});
