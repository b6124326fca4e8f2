import { expect, it } from 'vitest';
import { accuracyStated, expandedU, levelU, temperatureU } from '../../src/measures/sensor.ts';
import { session, UNSTATED, week } from '../checks/analysis-fixture.ts';

it('about 95 % is twice the standard uncertainty, less where a bound dominates', () => {
  expect(expandedU({ u: 0.5 })).toBe(1);
  expect(expandedU({ u: 0.5, k: 1.65 })).toBeCloseTo(0.825, 12);
});

it('an unstated accuracy leaves more open than the stated one of this session', () => {
  const open = levelU(12.5, 'voltage', week(), session(UNSTATED));
  expect(open).toBeGreaterThan(levelU(12.5, 'voltage', week(), session()));
  expect(accuracyStated('voltage', session())).toBe(true);
  expect(accuracyStated('voltage', session(UNSTATED))).toBe(false);
});

it('takes the thermometer’s own accuracy, and else two degrees', () => {
  const exact = session({
    columns: { temperature: { name: 't', unit: '°C', accuracy: { relative: 0, absolute: 0.5 } } },
  });
  const ratio = temperatureU(20, session()) / temperatureU(20, exact);
  expect(ratio).toBeCloseTo(4, 9);
});
