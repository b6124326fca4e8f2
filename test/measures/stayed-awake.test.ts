import { describe, expect, it } from 'vitest';
import { leastAwakeDrawA, stayedAwake } from '../../src/measures/stayed-awake.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

const awakeIn = (told: Parameters<typeof week>[0]) => stayedAwake(week(told), session()).length;
const never = { settleS: (k: number) => (k === 2 ? null : 900) };

describe('a stand in which it stayed awake', () => {
  it('never slept, for longer than it may take, and drew more than asleep', () => {
    expect(awakeIn(never)).toBe(1);
    expect(awakeIn({})).toBe(0);
    expect(awakeIn({ settleS: 7200 })).toBe(0);
  });

  it('is none where its draw is that of sleep: the sensor is restless, not the vehicle', () => {
    expect(awakeIn({ ...never, awakeA: 0.03 })).toBe(0);
    // Just above the limit, and known to less than that.
    expect(awakeIn({ ...never, awakeA: 0.053, sleepUA: 0.005 })).toBe(0);
  });

  it('is none where its key-off is not in the log, or a charger fed it', () => {
    expect(awakeIn({ settleS: (k) => (k === 0 ? null : 900) })).toBe(0);
    const analysis = week(never);
    const [from] = stayedAwake(analysis, session());
    const charger = {
      ...analysis.periods[0],
      kind: 'on-charger' as const,
      start: from.start + 60,
      end: from.start + 90,
    };
    expect(stayedAwake({ ...analysis, periods: [...analysis.periods, charger] }, session())).toEqual([]);
  });
});

it('counts what was awake for hours before the battery was gone, not somebody at work', () => {
  const analysis = week(never);
  const [stand] = stayedAwake(analysis, session());
  const goneAfter = (seconds: number) => {
    const [start, end] = [stand.start + seconds, stand.end];
    const off = { ...analysis.periods[0], kind: 'disconnected' as const, start, end };
    return stayedAwake({ ...analysis, periods: [...analysis.periods, off] }, session()).length;
  };
  expect(goneAfter(5 * 3600)).toBe(1);
  expect(goneAfter(2 * 3600)).toBe(0);
});

it('the least that it drew is that of its tiles alone', () => {
  const analysis = week(never);
  const [stand] = stayedAwake(analysis, session());
  const tiled = withTiles(
    analysis,
    (t) => ({ v: 12.4, i: t > stand.start && t < stand.end ? -3 - (t % 7) : -0.01 }),
    600,
  );
  expect(leastAwakeDrawA(tiled, session())).toBeGreaterThanOrEqual(3);
  expect(leastAwakeDrawA(week(), session())).toBeNull();
});
