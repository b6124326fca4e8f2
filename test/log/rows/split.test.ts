import { expect, it } from 'vitest';
import { splitLine } from '../../../src/log/rows/split.ts';

// Quotes as RFC 4180 has them.
it.each([
  ['a,b,,c', ',', ['a', 'b', '', 'c']],
  ['"a,b",c', ',', ['a,b', 'c']],
  ['"say ""no""";2', ';', ['say "no"', '2']],
  ['a, "b,c" ,d', ',', ['a', 'b,c', 'd']],
  ['"a",', ',', ['a', '']],
  ['  1   2  3 ', ' ', ['1', '2', '3']],
])('parts %s', (line, delimiter, cells) => {
  expect(splitLine(line, delimiter)).toEqual(cells);
});

it('takes a quote that is never closed as it stands', () => {
  expect(splitLine('"a,b', ',')).toEqual(['"a', 'b']);
});
