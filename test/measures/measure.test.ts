import { expect, it } from 'vitest';
import { measure } from '../../src/measures/measure.ts';
import { session, week } from '../checks/analysis-fixture.ts';

it('is computed once for each analysis and session, however often it is asked', () => {
  let computed = 0;
  const count = measure(() => ++computed);
  const [analysis, one, other] = [week(), session(), session()];
  expect([count(analysis, one), count(analysis, one), count(analysis, other), count(week(), one)]).toEqual([
    1, 1, 2, 3,
  ]);
});

it('keeps null too, and asks anew what threw', () => {
  let asked = 0;
  const none = measure(() => {
    asked++;
    if (asked === 1) throw new Error('once');
    return null;
  });
  const [analysis, one] = [week(), session()];
  expect(() => none(analysis, one)).toThrow('once');
  expect([none(analysis, one), none(analysis, one), asked]).toEqual([null, null, 2]);
});

it('what is given stands for every session', () => {
  const value = measure(() => 1);
  const analysis = week();
  value.given(analysis, 7);
  expect([value(analysis, session()), value(week(), session())]).toEqual([7, 1]);
});
