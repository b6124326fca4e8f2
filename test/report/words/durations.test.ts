import { describe, expect, it } from 'vitest';
import { makeDurations } from '../../../src/report/words/durations.ts';
import { makeFixed, measureWith } from '../../../src/report/words/numbers.ts';

function durations(locale: string) {
  const fixed = makeFixed(locale);
  const { duration, days, dayRange } = makeDurations(locale, fixed, measureWith(fixed, 'not known'), 'not known');
  const plain = (text: string) => text.replaceAll(/\s/g, ' ');
  return {
    duration: (seconds: number | null, U?: number) => plain(duration(seconds, U)),
    days: (seconds: number | null, U?: number) => plain(days(seconds, U)),
    dayRange: (low: number, high: number) => plain(dayRange(low, high)),
  };
}

const HOUR = 3600;
const DAY = 24 * HOUR;

describe('in English', () => {
  const { duration, days, dayRange } = durations('en-GB');
  it.each([
    [0.42, '0.4 s'],
    [42.4, '42 s'],
    [59.7, '1 min'],
    [95, '1 min 35 s'],
    [1500, '25 min'],
    [3599, '1 h'],
    [12_000, '3 h 20 min'],
    [2 * DAY, '2 days'],
    [3 * DAY + 5 * HOUR, '3 days 5 h'],
  ])('%f s are %s', (seconds, text) => expect(duration(seconds)).toBe(text));

  it('rounds to the uncertainty, in the unit of the value', () => {
    expect(duration(900, 120)).toBe('15 min ± 2 min');
    expect(duration(3 * HOUR, HOUR)).toBe('3 h ± 1 h');
  });

  it('says days as people do', () => {
    expect(days(DAY)).toBe('1 day');
    expect(days(1.5 * DAY)).toBe('1.5 days');
    expect(dayRange(0.6 * DAY, 4.2 * DAY)).toBe('0–4 days');
    expect(dayRange(0.2 * DAY, 0.8 * DAY)).toBe('19 h');
  });

  it('says where it is not known', () => expect([duration(null), days(null)]).toEqual(['not known', 'not known']));
});

it('in German', () => {
  const { days, dayRange } = durations('de-DE');
  expect(days(1.5 * DAY)).toBe('1,5 Tage');
  expect(dayRange(2 * DAY, 5 * DAY)).toBe('2–5 Tage');
});
