import { expect, it } from 'vitest';
import { otherSystem } from '../../src/measures/other-system.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

const at = (systemV: 6 | 12 | 24) => session({ vehicle: { systemV } });

it.each([
  ['a log of 24 V declared as 12 V', 2, 12, { suitsV: 24, tooHigh: true }],
  ['a log of 12 V declared as 24 V', 1, 24, { suitsV: 12, tooHigh: false }],
  ['a log of 12 V declared as 6 V', 1, 6, { suitsV: 12, tooHigh: true }],
] as const)('%s', (_, scale, systemV, told) => {
  expect(otherSystem(week({ scale }), at(systemV))).toMatchObject(told);
});

it('a battery that is flat, or overcharged for a while, is still of its system', () => {
  expect(otherSystem(week(), at(12))).toBeNull();
  const analysis = week();
  const flat = { ...analysis, tiles: { ...analysis.tiles, v: analysis.tiles.v.map((v, k) => (k % 3 ? 7 : v)) } };
  expect(otherSystem(flat, at(12))).toBeNull();
});

it('is sure where no worn battery could be behind it, and only told where one could', () => {
  const logged = (driveA: number, scale: number) =>
    withTiles(
      week({ days: 2 }),
      (_, kind) => (kind === 'driving' ? { v: 14.2 * scale, i: driveA } : { v: 12.5 * scale, i: -0.02 }),
      60,
    );
  expect(otherSystem(logged(5, 2), at(12))).toMatchObject({ suitsV: 24, isSure: true });
  expect(otherSystem(logged(5, 1), at(24))).toMatchObject({ suitsV: 12, isSure: true });
  // What reads 12 to 14 V and is never charged may be a dead pair of 24 V.
  expect(otherSystem(logged(-5, 1), at(24))).toMatchObject({ suitsV: 12, isSure: false });
});
