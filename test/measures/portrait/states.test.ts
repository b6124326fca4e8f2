import { expect, it } from 'vitest';
import { portraitStates } from '../../../src/measures/portrait/states.ts';
import { session, week } from '../../checks/analysis-fixture.ts';
import { wave, withCranks, withTiles } from '../../checks/tile-story.ts';

const LOG = withTiles(
  week(),
  (_, kind) => (kind === 'driving' ? { v: 14.2, i: 4 } : { v: 12.6, i: kind === 'asleep' ? -0.02 : -3 }),
  60,
);

it('has each kind with its share of the log, from sleep to drive', () => {
  const states = portraitStates(LOG, session());
  expect(states.map(({ kind }) => kind)).toEqual(['asleep', 'settling', 'cranking', 'driving']);
  expect(states.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 6);
  const [asleep] = states;
  expect(asleep.current?.spread()?.p50).toBeCloseTo(-0.02, 3);
  expect(states.at(-1)?.voltage.spread()?.p50).toBeCloseTo(14.2, 1);
});

it('takes cranks from their waveforms where each kept one', () => {
  const cranked = withCranks(LOG, (k) => ({ wave: wave(LOG.cranks[k].at, () => -180) }));
  const of = (analysis: typeof LOG) => portraitStates(analysis, session()).find(({ kind }) => kind === 'cranking');
  expect(of(cranked)?.current?.spread()?.p50).toBeCloseTo(-180, -1);
  expect(of(LOG)?.current?.spread()?.p50).toBeCloseTo(-3, 0);
});

it('has no current where none was logged', () => {
  const volts = withTiles(week({ current: false }), () => ({ v: 12.6 }), 600);
  expect(portraitStates(volts, session()).every(({ current }) => current === null)).toBe(true);
});
