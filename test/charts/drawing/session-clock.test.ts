import { describe, expect, test } from 'vitest';
import { sessionClock } from '../../../src/charts/drawing/session-clock.ts';
import { ENGLISH } from '../english.ts';

const utcS = (iso: string) => Date.parse(iso) / 1000;

describe('the session clock', () => {
  test('the axis runs evenly, also over a clock change, and starts at the local time', () => {
    const start = utcS('2026-03-28T12:00:00Z');
    const clock = sessionClock('Europe/Dublin', start, ENGLISH);
    expect(clock.x(start)).toBe(Date.parse('2026-03-28T12:00:00Z'));
    expect(clock.x(start + 48 * 3600) - clock.x(start)).toBe(48 * 3_600_000);
    expect(sessionClock('America/New_York', start, ENGLISH).x(start)).toBe(Date.parse('2026-03-28T08:00:00Z'));
  });

  test('ticks stand at local midnights before and after a clock change', () => {
    // Clocks went forward on 29 March 2026 at 01:00 UTC in Dublin: its midnights are 00:00 and then 23:00 UTC.
    const clock = sessionClock('Europe/Dublin', utcS('2026-03-28T12:00:00Z'), ENGLISH);
    const { values, labels, sayDay } = clock.ticks(utcS('2026-03-28T12:00:00Z'), utcS('2026-03-31T12:00:00Z'), 4);
    expect(labels).toEqual(['Sun 29 Mar', 'Mon 30 Mar', 'Tue 31 Mar']);
    expect(sayDay).toBe(true);
    expect(values.map((ms) => new Date(ms).toISOString())).toEqual([
      '2026-03-29T00:00:00.000Z',
      '2026-03-29T23:00:00.000Z',
      '2026-03-30T23:00:00.000Z',
    ]);
  });

  test('short logs get hours and the hours of local time', () => {
    const start = utcS('2026-07-01T10:20:00Z');
    const clock = sessionClock('Europe/Dublin', start, ENGLISH);
    const { labels, sayDay } = clock.ticks(start, start + 3 * 3600, 9);
    expect(labels).toEqual(['11:30', '12:00', '12:30', '13:00', '13:30', '14:00']);
    expect(sayDay).toBe(false);
  });

  test.each([60, 3600, 86_400, 30 * 86_400, 400 * 86_400])(
    'never more ticks than asked for plus one, over %i s',
    (span) => {
      const start = utcS('2026-03-03T17:40:00Z');
      const { values } = sessionClock('Asia/Kolkata', start, ENGLISH).ticks(start, start + span, 9);
      expect(values.length).toBeGreaterThan(0);
      expect(values.length).toBeLessThanOrEqual(10);
      expect(new Set(values).size).toBe(values.length);
    },
  );

  test('days are told by the local calendar', () => {
    const clock = sessionClock('Pacific/Auckland', utcS('2026-03-03T12:00:00Z'), ENGLISH);
    const lateEvening = utcS('2026-03-03T12:30:00Z');
    expect(clock.day(lateEvening)).toBe('Wed 4 Mar');
    expect(clock.time(lateEvening)).toBe('01:30');
    expect(clock.secondOfDay(lateEvening)).toBe(5400);
    expect(clock.dayStart(clock.dayNumber(lateEvening))).toBe(utcS('2026-03-03T11:00:00Z'));
  });
});
