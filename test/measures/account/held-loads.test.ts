import { describe, expect, it } from 'vitest';
import { heldLoads, tailOf } from '../../../src/measures/account/held-loads.ts';
import { heldU } from '../../../src/measures/account/held-u.ts';
import { analysed, HOUR, keyOff, keyOn, load, mornings } from '../../simulated/load-stories.ts';

const heldIn = (extra: ReturnType<typeof load>[]) => {
  const { analysis, session } = analysed(mornings(3, { extra, wakes: [] }));
  return { loads: heldLoads(analysis, session), analysis, session, t0: analysis.start };
};

describe('a load that stays', () => {
  it('from key-off to key-on is told with its draw above sleep, and known to the sensor', () => {
    const { loads, analysis, session } = heldIn([load(keyOff(1), keyOn(2), 0.449)]);
    expect(loads).toHaveLength(1);
    const [one] = loads;
    expect(one).toMatchObject({ stand: 2, from: 'key-off', until: 'key-on' });
    const { meanA, chargeAh } = heldU(one, analysis, session);
    expect(Math.abs(one.meanA - 0.449)).toBeLessThan((meanA.k ?? 2) * meanA.u);
    expect(Math.abs(one.chargeAh - 0.449 * 23.5)).toBeLessThan((chargeAh.k ?? 2) * chargeAh.u);
  });

  it('is none within an hour of key-off, nor where it draws hardly more than sleep', () => {
    expect(heldIn([load(keyOff(1), keyOff(1) + 0.6 * HOUR, 0.449)]).loads).toEqual([]);
    expect(heldIn([load(keyOff(1), keyOn(2), 0.01)]).loads).toEqual([]);
  });
});

it('a run’s tail is without the shutdown, and at least half of it', () => {
  const run = { start: 0, end: 1000, seconds: 1000, outAh: 1, isFirst: true, isLast: false, isToppedUp: false };
  expect(tailOf(run, 300)).toEqual({ start: 300, end: 1000 });
  expect(tailOf(run, 900)).toEqual({ start: 500, end: 1000 });
  expect(tailOf({ ...run, isFirst: false }, 300)).toEqual({ start: 0, end: 1000 });
});
