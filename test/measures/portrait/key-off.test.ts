import { expect, it } from 'vitest';
import { keyOffs } from '../../../src/measures/portrait/key-off.ts';
import { session, week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

/** The last `unfedS` of each drive draw, and nothing charges any more. */
function offs(unfedS: number, drawA = 8) {
  const analysis = week();
  const ends = analysis.drives.map(({ end }) => end);
  const tiled = withTiles(
    analysis,
    (t, kind) =>
      kind !== 'driving'
        ? { v: 12.5, i: -0.02 }
        : ends.some((end) => t < end && t > end - unfedS)
          ? { v: 12.5, i: -drawA }
          : { v: 14.2, i: 4 },
    1,
  );
  return { found: keyOffs(tiled, session()), stands: analysis.stands };
}

it('is where what fed the battery ended, as far as it draws until the stand', () => {
  const { found, stands } = offs(20);
  expect(found[0]).toBeNull();
  for (const [k, { start }] of stands.entries()) if (k > 0) expect(found[k]).toBeCloseTo(start - 20, 6);
});

it('is the stand’s begin where it was fed until then, or hardly drew', () => {
  for (const { found, stands } of [offs(0), offs(20, 0.05)])
    expect(found.slice(1)).toEqual(stands.slice(1).map(({ start }) => start));
});

it('is looked for two minutes back, and no further', () => {
  const { found, stands } = offs(200);
  expect(found[1]).toBeCloseTo((stands[1]?.start ?? 0) - 120, 6);
});
