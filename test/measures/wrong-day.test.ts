import { expect, it } from 'vitest';
import { UserError } from '../../src/base/problem.ts';
import { refuseOtherDay } from '../../src/measures/wrong-day.ts';
import { session } from '../checks/analysis-fixture.ts';

const begins = (day: string) => ({ start: Date.parse(`${day}T08:00:00Z`) / 1000 });
function fitted(day: string, pattern: string | undefined = 'DD/MM/YYYY') {
  const plain = session({ columns: { time: { name: 'time', ...(pattern && { format: { pattern } }) } } });
  return { ...plain, install: { fittedAtMs: Date.parse(`${day}T07:00:00Z`) } };
}

it('refuses a log that lies at its fitting only with day and month changed', () => {
  const refuse = () => refuseOtherDay(begins('2026-05-03'), fitted('2026-03-05'));
  expect(refuse).toThrow(UserError);
  expect(refuse).toThrow(/begins on 2026-05-03.*fitted on 2026-03-05.*Change DD and MM/);
});

it.each([
  ['at its fitting as it is read', '2026-03-05', fitted('2026-03-05')],
  ['far from it either way', '2026-05-03', fitted('2026-09-20')],
  ['of a day that is no month', '2026-05-23', fitted('2026-03-05')],
  ['of which nobody said when it was fitted', '2026-05-03', { ...fitted('2026-03-05'), install: {} }],
] as const)('lets a log pass %s', (_, day, told) => {
  expect(() => refuseOtherDay(begins(day), told)).not.toThrow();
});
