/** A contact that gives way under the starter, and what only looks like it. Physics: no battery recovers volts within minutes without charge. */
import { expect, test } from 'vitest';
import type { Analysis, Crank, VehicleEvent } from '../../src/analysis/model.ts';
import { contactLosses } from '../../src/measures/contact-losses.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

const T = week().cranks[0]?.at ?? 0;
const start = (change: Partial<Crank> = {}): Crank => ({
  ...(week().cranks[0] as Crank),
  at: T,
  voltsMin: 11.2,
  ampsPeak: 225,
  started: true,
  ...change,
});
const load = (change: Partial<VehicleEvent> = {}): VehicleEvent => ({
  kind: 'heavy-load',
  start: T - 25,
  seconds: 1,
  meanA: 94,
  voltsMin: 6.7,
  ...change,
});
const losses = (event: VehicleEvent, crank = start(), change: Partial<Analysis> = {}, volts = 7) => {
  const told = withTiles(
    { ...week(), events: [event], cranks: [crank], ...change },
    (t) => ({
      v: t >= event.start && t < event.start + event.seconds ? volts : 12.5,
    }),
    1,
  );
  return contactLosses(told, session()).length;
};

test('less current with far less voltage, and more of both soon after', () => {
  expect(losses(load())).toBe(1);
  expect(losses(load({ kind: 'failed-start' }))).toBe(1);
});

test('is no weak battery, whose voltage falls with what it gives, and no starter that stalls', () => {
  expect(losses(load({ meanA: 210 }))).toBe(0);
  expect(losses(load({ voltsMin: 10.4 }), start(), {}, 10.6)).toBe(0);
  expect(losses(load(), start({ voltsMin: 7.4 }))).toBe(0);
});

test('is none where hours or a charger lie between, where nothing started, or where one reading is wrong', () => {
  expect(losses(load({ start: T - 3600 }))).toBe(0);
  expect(losses(load(), start({ started: false }))).toBe(0);
  expect(losses(load(), start(), {}, 12.3)).toBe(0);
  const period = { ...week().periods[0], kind: 'on-charger' as const, start: T - 20, end: T - 5, chargeInAh: 0.1 };
  expect(losses(load(), start(), { periods: [period as Analysis['periods'][number]] })).toBe(0);
});
