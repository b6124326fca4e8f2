import { expect, it } from 'vitest';
import { UserError } from '../../../src/base/problem.ts';
import type { LogAccount } from '../../../src/log/block.ts';
import { inOtherOrder, refuseOrder } from '../../../src/log/time/other-order.ts';
import { sessionWith } from '../helpers.ts';

const DAY = 86_400;
const account = (gapDays: number, rowsRejected = 0) =>
  ({
    rows: 1000,
    rowsRejected,
    gaps: gapDays > 0 ? [{ start: 0, seconds: gapDays * DAY }] : [],
  }) as unknown as LogAccount;
const withPattern = (pattern: string) => sessionWith({ columns: { time: { name: 'time', format: { pattern } } } });

it.each([
  ['DD/MM/YYYY HH:mm:ss', 'MM/DD/YYYY HH:mm:ss'],
  ['M/D/YYYY', 'D/M/YYYY'],
])('changes %s into %s where a month is missing', (pattern, other) => {
  expect(inOtherOrder(withPattern(pattern), account(30))?.pattern).toBe(other);
});

it('does not look where nothing is missing, where the month is a name, or where there is no pattern', () => {
  expect(inOtherOrder(withPattern('DD/MM/YYYY'), account(1))).toBeUndefined();
  expect(inOtherOrder(withPattern('DD-MMM-YYYY'), account(30))).toBeUndefined();
  expect(inOtherOrder(sessionWith(), account(30))).toBeUndefined();
});

it('looks too where many rows have no such date', () => {
  expect(inOtherOrder(withPattern('DD/MM/YYYY'), account(0, 400))?.pattern).toBe('MM/DD/YYYY');
});

it('refuses the order only where the other one joins the log', () => {
  const session = withPattern('DD/MM/YYYY');
  const refuse = (said: LogAccount, other: LogAccount) => () => refuseOrder(session, said, other, 'MM/DD/YYYY');
  expect(refuse(account(60), account(0))).toThrow(UserError);
  expect(refuse(account(60), account(0))).toThrow(/lacks 60 days.*Say "MM\/DD\/YYYY"/);
  expect(refuse(account(0, 400), account(0, 0))).toThrow(/400 of 1000 rows have no such date/);
  expect(refuse(account(60), account(50))).not.toThrow();
});
