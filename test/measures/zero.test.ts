/** What the sensor reads while no current can flow. */
import { describe, expect, it } from 'vitest';
import type { Period } from '../../src/analysis/model.ts';
import { asleepRiseV, shiftedZeroA, zeroWhileOff } from '../../src/measures/zero.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

/** The battery is off for `offS` within the last night, and the sensor reads `readA` then. */
function off(readA: number, offS = 600) {
  const analysis = week();
  const last = analysis.periods.at(-1) as Period;
  const start = last.start + 3600;
  const periods = [
    ...analysis.periods.slice(0, -1),
    { ...last, end: start },
    { ...last, kind: 'disconnected' as const, start, end: start + offS },
    { ...last, start: start + offS },
  ];
  const own = session({
    columns: { current: { name: 'i', unit: 'A', positive: 'charging', accuracy: { relative: 0.01, absolute: 0.002 } } },
  });
  return {
    analysis: withTiles(
      { ...analysis, periods },
      (_, kind) => ({ v: 12.5, i: kind === 'disconnected' ? readA : -0.018 }),
      10,
    ),
    session: own,
  };
}

describe('a reading of nothing', () => {
  it('within what the sensor may err is nothing', () => {
    const { analysis, session: own } = off(0.001);
    expect(zeroWhileOff(analysis, own)).toMatchObject({ shows: 'nothing' });
    expect(shiftedZeroA(analysis, own)).toBe(0);
  });

  it('beyond it is the sensor’s offset', () => {
    const { analysis, session: own } = off(0.05);
    expect(zeroWhileOff(analysis, own)).toMatchObject({ shows: 'offset' });
    expect(shiftedZeroA(analysis, own)).toBeCloseTo(0.05, 6);
  });

  it('that goes on as asleep is a voltage lead that came off', () => {
    const { analysis, session: own } = off(-0.018);
    expect(zeroWhileOff(analysis, own)).toMatchObject({ shows: 'lead' });
    expect(shiftedZeroA(analysis, own)).toBe(0);
  });

  it('of half a minute, or none at all, says nothing', () => {
    const { analysis, session: own } = off(0.05, 25);
    expect(zeroWhileOff(analysis, own)).toBeNull();
    expect(zeroWhileOff(week(), session())).toBeNull();
  });
});

it('the rise of a sleeping battery is from its first quarter to its last', () => {
  const analysis = week();
  const [, stand] = analysis.stands;
  const rising = withTiles(analysis, (t) => ({ v: 12 + (t - stand.start) / (stand.end - stand.start), i: -0.02 }), 60);
  expect(asleepRiseV(rising, stand)).toBeGreaterThan(0.6);
  expect(asleepRiseV(rising, stand)).toBeLessThan(0.8);
  expect(asleepRiseV(analysis, { start: 0, end: 1 })).toBe(0);
});
