import { expect, test } from 'vitest';
import { wholeDays } from '../../src/base/whole-days.ts';

const DAY_S = 86_400;
const said = (low: number, high: number) => wholeDays(low * DAY_S, high * DAY_S);

test('the short end is rounded down, the long one to the nearest day above it', () => {
  expect(said(2.4, 12.3)).toEqual({ low: 2, high: 12 });
  expect(said(2.1, 2.4)).toEqual({ low: 2, high: 3 });
  expect(said(13.9999999, 71)).toEqual({ low: 14, high: 71 });
});

test('days that nobody can count on are none, and less than two are told in tenths', () => {
  expect(said(0.9, 9.6)).toEqual({ low: 0, high: 10 });
  expect(said(-1, 0.46)).toEqual({ low: 0, high: 0.5 });
  expect(said(0, 0)).toEqual({ low: 0, high: 0.1 });
});
