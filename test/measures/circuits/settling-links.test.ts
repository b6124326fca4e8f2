/** Which circuit goes with slow settlings. The chances are counted by hand: so many ways of so many. */
import { expect, it } from 'vitest';
import type { Analysis } from '../../../src/analysis/model.ts';
import { linkToSettlings } from '../../../src/measures/circuits/settling-links.ts';
import type { Settling } from '../../../src/measures/circuits/settlings.ts';

const STAND_S = 40_000;
const STEP_S = 20;
const SLOW_AFTER_S = 1200;

interface Night {
  readonly slow: boolean;
  /** Key-off to sleep, s; null: it never slept. */
  readonly seconds: number | null;
  /** How long the circuit stays on after key-off, s. */
  readonly onS: number;
}

function linkOf(nights: readonly Night[]) {
  const perStand = STAND_S / STEP_S;
  const n = nights.length * perStand;
  const column = (of: (k: number) => number) => Float64Array.from({ length: n }, (_, k) => of(k));
  const high = column((k) => ((k % perStand) * STEP_S < (nights[Math.floor(k / perStand)]?.onS ?? 0) ? 12 : 0));
  const tiles = { n, t0: column((k) => k * STEP_S), t1: column((k) => (k + 1) * STEP_S), chMin: [high], chMax: [high] };
  const stands = nights.map((_, k) => ({ start: k * STAND_S, end: (k + 1) * STAND_S }));
  const analysis = { tiles, stands, stepsS: { parked: STEP_S }, medianStepS: STEP_S } as unknown as Analysis;
  const all = nights.map(
    ({ slow, seconds }, k): Settling => ({ start: k * STAND_S, seconds, slow, chargeAh: slow ? 9 : 1 }),
  );
  const channel = { name: 'x', label: 'Terminal', unit: 'V', activeAboveV: 6, measures: 'supply' } as const;
  return linkToSettlings(analysis, { slowAfterS: SLOW_AFTER_S, all }, 0, channel);
}

const quick = (onS: number): Night => ({ slow: false, seconds: 600, onS });
const allNight: Night = { slow: true, seconds: null, onS: STAND_S };

it('is the one that stays on all night where it goes dark within minutes otherwise', () => {
  const link = linkOf([
    ...Array.from({ length: 16 }, (_, k) => quick(90 + 2 * k)),
    ...Array.from({ length: 4 }, () => allNight),
  ]);
  expect(link).toMatchObject({ slowWith: 4, slowSeen: 4, quickWith: 16 });
  // One of 4845 ways to draw four of twenty, asked twice.
  expect(link?.chance).toBeCloseTo(2 / 4845, 8);
});

it('with few nights it is no proof', () => {
  const link = linkOf([quick(90), quick(100), quick(110), allNight, allNight]);
  expect(link?.chance).toBeCloseTo(2 / 10, 8);
});

it('is not one that stays on as long after quick key-offs', () => {
  const some = Array.from({ length: 12 }, (_, k) => quick(k === 5 ? STAND_S : 90));
  expect(linkOf([...some, allNight, allNight, allNight])?.chance).toBe(1);
});

it('nor one that is off long before the vehicle could sleep, for a few seconds more', () => {
  const some = Array.from({ length: 12 }, () => quick(100));
  const slow: Night = { slow: true, seconds: 9000, onS: 300 };
  expect(linkOf([...some, slow, slow, slow])?.chance).toBe(1);
});
