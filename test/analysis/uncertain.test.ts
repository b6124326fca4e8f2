import { expect, it } from 'vitest';
import { accuracyOf, measuredA, measuredOhm, measuredV, stepLeft } from '../../src/analysis/uncertain.ts';
import { sessionWith } from './blocks.ts';

const stated = (relative: number, absolute: number) =>
  sessionWith({
    columns: {
      voltage: { name: 'v', unit: 'V', accuracy: { relative: 0, absolute: 0.03 } },
      current: { name: 'a', unit: 'A', positive: 'charging', accuracy: { relative, absolute } },
    },
  });
const sensors = { session: stated(0.01, 0), resolution: { v: 0.02, i: 0 } };

// JCGM 100: a bound ± a known no better than that is rectangular (4.3.7), of standard uncertainty a/√3; independent ones add
// as squares (5.1.2).
it('joins accuracy, half a step and scatter', () => {
  expect(measuredA(sensors, 3, 0).u).toBeCloseTo(0.03 / Math.sqrt(3), 12);
  expect(measuredV(sensors, 12, 0).u).toBeCloseTo(Math.hypot(0.03, 0.01) / Math.sqrt(3), 12);
  expect(measuredA(sensors, 3, 0.05).u).toBeCloseTo(Math.hypot(0.03 / Math.sqrt(3), 0.05), 12);
});

it('an offset is in both ends of a change, so that only gains tell of a resistance', () => {
  const plain = { ohm: 0.006, halfOhm: 0, scatterU: 0 };
  expect(measuredOhm({ ...sensors, session: stated(0, 5) }, plain).u).toBe(0);
  expect(measuredOhm(sensors, plain).u).toBeCloseTo((0.006 * 0.01) / Math.sqrt(3), 12);
});

it('assumes an accuracy where none is stated, and never a better one than the trade’s', () => {
  const unstated = accuracyOf('current', sessionWith());
  expect(unstated.relative).toBeGreaterThan(0);
  expect(unstated.absolute).toBeGreaterThan(0);
  expect(accuracyOf('current', stated(0.02, 0))).toEqual({ relative: 0.02, absolute: 0 });
});

it('noise that takes the readings over a step leaves nothing of it', () => {
  expect(stepLeft(0.01, 0.001)).toBe(0.005);
  expect(stepLeft(0.01, 0.02)).toBe(0);
});
