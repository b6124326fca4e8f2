/** A ground cable of known resistance that a channel is set across. */
import { expect, it } from 'vitest';
import type { Channel } from '../../src/manifest/session.ts';
import { pathDrops } from '../../src/measures/path-drop.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { wave, withCranks, withTiles } from '../checks/tile-story.ts';

const OHM = 0.002;
const CABLE = { name: 'g', label: 'ground', unit: 'V', measures: 'drop' } as Channel;

function drops({ zeroV = 0, mostA = 200, channel = CABLE, rangeA = undefined as number | undefined } = {}) {
  const at = (kind: string) => (kind === 'cranking' ? mostA : kind === 'settling' ? 3 : kind === 'driving' ? -4 : 0.02);
  const tiled = withTiles(week(), (_, kind) => ({ v: 12.4, i: -at(kind), ch: [zeroV + OHM * at(kind)] }), 60);
  const own = session({ columns: { current: { name: 'i', unit: 'A', positive: 'charging', rangeA } } });
  const cranked = withCranks(tiled, (k) => ({ wave: wave(tiled.cranks[k].at, () => -180) }));
  return pathDrops(cranked, { ...own, log: { ...own.log, channels: [channel] } })[0];
}

it('finds the resistance, for the draw of a start after its inrush', () => {
  const drop = drops();
  expect(drop?.ohm.value).toBeCloseTo(OHM, 6);
  expect(drop).toMatchObject({ cranking: true, tiles: 14 });
  expect(drop?.loadA).toBeCloseTo(180, 6);
});

it('takes the channel’s own zero off', () => {
  expect(drops({ zeroV: 0.05 })?.ohm.value).toBeCloseTo(OHM, 5);
});

it('says nothing where the battery never gave enough, the current ran out of range, or the channel is a circuit', () => {
  expect(drops({ mostA: 8 })).toBeNull();
  expect(drops({ rangeA: 100 })).toBeNull();
  expect(drops({ channel: { ...CABLE, measures: 'supply' } })).toBeNull();
});
