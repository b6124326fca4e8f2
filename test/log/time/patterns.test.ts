import { expect, it } from 'vitest';
import { patternsThatFit } from '../../../src/log/time/patterns.ts';

it.each<[readonly string[], readonly string[]]>([
  [['03.03.2026 17:40:12', '04.03.2026 00:00:01'], ['DD.MM.YYYY HH:mm:ss']],
  [['3/13/2026 5:40:12 PM', '3/14/2026 12:00:01 AM'], ['MM/DD/YYYY hh:mm:ss A']],
  [
    ['03/04/2026 17:40', '03/05/2026 17:40'],
    ['DD/MM/YYYY HH:mm', 'MM/DD/YYYY HH:mm'],
  ],
  [['13/04/2026 17:40', '14/04/2026 17:40'], ['DD/MM/YYYY HH:mm']],
  [['3 Mar 2026 17:40:12'], ['DD MMM YYYY HH:mm:ss']],
  [['2026/03/13 17:40:12.5'], ['YYYY/MM/DD HH:mm:ss']],
  [['17:40:12', '17:40:13'], []],
  [['1772559612', '1772559613'], []],
  [['', '  '], []],
])('%j: %j', (times, patterns) => {
  expect(patternsThatFit(times)).toEqual(patterns);
});

it('date and clock in two columns are one pattern', () => {
  expect(patternsThatFit(['03.03.2026', '04.03.2026'], ['17:40:12', '00:00:01'])).toEqual(['DD.MM.YYYY HH:mm:ss']);
});

it('a few torn cells do not matter, many do', () => {
  const torn = (n: number) => Array.from({ length: 100 }, (_, k) => (k > 0 && k <= n ? '03.0' : '13.03.2026 17:40:12'));
  expect(patternsThatFit(torn(4))).toHaveLength(1);
  expect(patternsThatFit(torn(6))).toEqual([]);
});
