// What may not stand in one report: findings, or a finding and what the log shows, whose sentences exclude each other; and
// what page one must keep to. One table, each line with its reason, held against every report that the tests, the fuzz run,
// the workshop and the sweep make. Plain JavaScript, so that scripts read it too.

import { ADVICE } from './agreement/advice.mjs';
import { BATTERY, RECORDING } from './agreement/battery.mjs';
import { PAGE_ONE } from './agreement/page-one.mjs';
import { ACCOUNTS, VOID } from './agreement/rules.mjs';
import { CIRCUITS, SLEEP } from './agreement/sleep.mjs';

export const AGREEMENTS = [
  ...SLEEP,
  ...CIRCUITS,
  ...BATTERY,
  ...RECORDING,
  ...VOID,
  ...ADVICE,
  ...PAGE_ONE,
  ...ACCOUNTS,
];

/** What in a report does not agree, one line each; empty for a report that does. */
export function disagreements(report) {
  return AGREEMENTS.flatMap(({ name, broken }) => {
    const found = broken(report);
    return found ? [`${name}: ${found}`] : [];
  });
}
