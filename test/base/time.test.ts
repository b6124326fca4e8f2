import { describe, expect, it } from 'vitest';
import { formatIso, formatWallClock, parseIso, wallClockMs } from '../../src/base/time.ts';

const utc = (text: string) => {
  const { localMs, offsetMs = 0 } = parseIso(text) ?? { localMs: Number.NaN };
  return localMs - offsetMs;
};

describe('parseIso', () => {
  // RFC 3339, section 5.8 (values in s as computed from its examples).
  it('reads the examples of RFC 3339', () => {
    expect(utc('1985-04-12T23:20:50.52Z')).toBe(482196050520);
    expect(utc('1996-12-19T16:39:57-08:00')).toBe(851042397000);
  });

  it('tells a time with an offset from one without', () => {
    expect(parseIso('2026-03-03T17:30')).toEqual({ localMs: Date.UTC(2026, 2, 3, 17, 30) });
    expect(parseIso('2026-03-03 17:30:05,25 +0530')).toEqual({
      localMs: Date.UTC(2026, 2, 3, 17, 30, 5, 250),
      offsetMs: 19_800_000,
    });
    expect(parseIso('2026-03-03')).toEqual({ localMs: Date.UTC(2026, 2, 3) });
  });

  it.each([
    '2026-02-29',
    '2026-13-01',
    '2026-00-10',
    '2026-03-03T24:00',
    '2026-03-03T17:60',
    '2026-03-03T17:30:60',
    '2026-03-03T17:30+15:00',
    '2026-03-03T17:30+01:75',
    '2026-03-03Z',
    '2026-3-3',
    '03.03.2026',
    '17:30',
    '',
  ])('refuses %j', (text) => {
    expect(parseIso(text)).toBeUndefined();
  });
});

it('wallClockMs knows the calendar', () => {
  expect(wallClockMs(2024, 2, 29, 12, 0, 0.5)).toBe(Date.UTC(2024, 1, 29, 12, 0, 0, 500));
  expect(wallClockMs(2023, 2, 29)).toBeUndefined();
  expect(wallClockMs(99, 1, 1)).toBeLessThan(Date.UTC(1900, 0, 1));
  expect(wallClockMs(2023, Number.NaN, 1)).toBeUndefined();
});

it('writes times', () => {
  expect(formatIso(482196050520)).toBe('1985-04-12T23:20:50.520Z');
  expect(formatWallClock(Date.UTC(2026, 2, 3, 17, 30))).toBe('2026-03-03 17:30');
  expect(formatWallClock(Date.UTC(2026, 2, 3, 17, 30, 5))).toBe('2026-03-03 17:30:05');
});
