import { expect, it } from 'vitest';
import type { Label } from '../../../src/analysis/states/label.ts';
import { findStands } from '../../../src/analysis/states/stands.ts';
import { hole, log, START, type Stretch, stretch, tilesOf } from '../blocks.ts';

const draw = (seconds: number, amps: number, v = 12.5) => stretch(seconds, 1, { v, i: -amps });
const drive = (seconds: number) => draw(seconds, -10, 14.2);

/** A tile is driving where current flows in. */
function standsOf(...stretches: readonly Stretch[]) {
  const tiles = tilesOf(log(stretches));
  const labels = Array.from({ length: tiles.n }, (_, k): Label => (tiles.i[k] > 1 ? 'driving' : 'parked'));
  return findStands(tiles, labels).map(({ first, last, keyOffInLog, keyOnInLog }) => ({
    from: Math.round((tiles.t0[first] - START) / 60),
    to: Math.round((tiles.t1[last] - START) / 60),
    keyOffInLog,
    keyOnInLog,
  }));
}

it('a stand goes from key-off to key-on; the first and the last have but one of them', () => {
  expect(standsOf(draw(3600, 0.02), drive(600), draw(7200, 0.02), drive(600), draw(3600, 0.02))).toEqual([
    { from: 0, to: 60, keyOffInLog: false, keyOnInLog: true },
    { from: 70, to: 190, keyOffInLog: true, keyOnInLog: true },
    { from: 200, to: 260, keyOffInLog: true, keyOnInLog: false },
  ]);
});

it('a long hole parts a stand where a drive may lie in it', () => {
  expect(standsOf(draw(3600, 0.02), hole(3600), draw(3600, 3, 12.9))).toHaveLength(2);
});

it('but not where the draw goes on as it was and nothing charged, nor a short one', () => {
  expect(standsOf(draw(3600, 0.02), hole(3600), draw(3600, 0.02))).toHaveLength(1);
  expect(standsOf(draw(3600, 0.02), hole(300), draw(3600, 3, 12.9))).toHaveLength(1);
});

it('a drive behind a hole says nothing of the key-off', () => {
  expect(standsOf(drive(600), hole(7200), draw(3600, 0.02))).toEqual([
    { from: 130, to: 190, keyOffInLog: false, keyOnInLog: false },
  ]);
});
