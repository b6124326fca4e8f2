import { expect, it } from 'vitest';
import { countLike, unitOfCount } from '../../../src/log/time/time-number.ts';

const from = (start: number, step: number) => Array.from({ length: 10 }, (_, k) => String(start + k * step));

it.each([
  ['seconds since 1970', from(1_772_000_000, 1), 'time', ['epoch-s']],
  ['milliseconds since 1970', from(1_772_000_000_000, 500), 'time', ['epoch-ms']],
  ['microseconds since 1970', from(1_772_000_000_000_000, 500_000), 'time', ['epoch-us']],
  ['a count that is named', from(0, 1000), 'time_ms', ['elapsed-ms']],
  ['a count by ones', from(0, 1), 'time', ['elapsed-s']],
  ['a count by fractions', from(0, 0.5), 'time', ['elapsed-s']],
  ['a count by hundreds, which may be either', from(0, 500), 'time', ['elapsed-ms', 'elapsed-s']],
])('%s', (_, cells, name, formats) => {
  expect(countLike(cells, name)?.formats).toEqual(formats);
});

it('is none where numbers fall, or are mostly words', () => {
  expect(countLike(from(100, -1), 'time')).toBeUndefined();
  expect(countLike(['on', 'off', '3', '4', '5'], 'time')).toBeUndefined();
});

it.each([
  ['Zeit [s]', 's'],
  ['time_ms', 'ms'],
  ['timeMs', 'ms'],
  ['millis', 'ms'],
  ['t (ms)', 'ms'],
  ['volts', undefined],
  ['items', undefined],
])('%s names %s', (name, unit) => {
  expect(unitOfCount(name)).toBe(unit);
});
