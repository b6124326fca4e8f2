/** Before fitting. Worked by hand beside each value. */
import { describe, expect, it } from 'vitest';
import { type PlanAsked, planAnswer } from '../../src/measures/plan.ts';

const asked = (told: Partial<PlanAsked> = {}) => planAnswer({ times: 3, confidence: 0.95, ...told });

describe('what the card holds', () => {
  it('is its bytes over those of a row, step by step', () => {
    // 1 GB at 50 bytes and ten rows a second: 2 · 10⁶ s.
    const { hours_on_card } = asked({ cardBytes: 1e9, rowBytes: 50, stepS: 0.1 });
    expect(hours_on_card ?? 0).toBeGreaterThan(0.9 * (2e6 / 3600));
    expect(hours_on_card ?? 0).toBeLessThanOrEqual(2e6 / 3600);
  });

  it('is not known without a step, and it is said what is lacking', () => {
    expect(asked({ cardBytes: 1e9, rowBytes: 50 }).reasons.hours_on_card).toEqual({ kind: 'missing', what: ['stepS'] });
  });

  it('takes the size of a row from its columns, and says so', () => {
    const { hours_on_card, taken } = asked({ cardBytes: 1e9, columns: 4, stepS: 1 });
    expect(hours_on_card).toBeGreaterThan(0);
    expect(taken.map(({ key }) => key)).toContain('row-bytes');
  });
});

it('to see an event n times with confidence takes longer than n of its intervals', () => {
  // Poisson: P(N ≥ 3) = 0.95 at a mean of 6.296 (half of χ² 0.95 with 6 degrees, 12.592: NIST tables).
  expect(asked({ eventEveryS: 3600 }).hours_to_see).toBeCloseTo(6.296, 2);
  expect(asked({}).hours_to_see).toBeNull();
});

describe('whether the vehicle may stand as long as the log is', () => {
  const battery = { drawA: 0.05, capacityAh: 70, charge: 0.9 };
  it.each([
    [24 * 3600, 'yes'],
    [300 * 24 * 3600, 'no'],
  ])('an event each %d s: %s', (eventEveryS, may) => {
    expect(asked({ ...battery, eventEveryS: eventEveryS / 6.296 }).may_stand).toBe(may);
  });

  it('is open without a battery, and without anything to wait for', () => {
    expect(asked({ eventEveryS: 3600 }).reasons.may_stand).toEqual({ kind: 'no-stand' });
    expect(asked(battery).reasons.may_stand).toEqual({ kind: 'no-length' });
  });
});

describe('what the sensor can say of the limit', () => {
  const limit = (drawA?: number) => asked({ drawA, accuracy: { relative: 0.01, absolute: 0.01 } }).limit;
  it('leaves open what lies within its uncertainty', () => {
    const found = limit();
    expect(found?.value_a).toBe(0.05);
    expect(found?.open_to_a).toBeCloseTo(0.05 + (found?.uncertainty_a ?? 0), 12);
    expect([limit(0.05)?.decision, limit(0.2)?.decision, limit(0.01)?.decision]).toEqual([
      'undecided',
      'beyond',
      'within',
    ]);
  });

  it('says what no length of log betters', () => {
    const { reasons } = asked({
      drawA: 0.05,
      accuracy: { relative: 0, absolute: 0.02 },
      noiseA: 0.001,
      stepS: 1,
      uncertaintyA: 0.001,
    });
    expect(reasons.hours_to_measure).toMatchObject({ kind: 'sensor-leaves' });
  });
});
