/** RFC 3339, section 5.8: its examples, and the instants that they stand for. */
import { describe, expect, it } from 'vitest';
import { readIso } from '../../src/log/time/time-text.ts';

describe('the examples of RFC 3339, 5.8', () => {
  it.each([
    // Seconds since 1970: the first two as computed in shells everywhere; the leap seconds fall together with the next.
    ['1985-04-12T23:20:50.52Z', 482_196_050.52],
    ['1996-12-19T16:39:57-08:00', 851_042_397],
    ['1996-12-20T00:39:57Z', 851_042_397],
    ['1990-12-31T23:59:60Z', 662_688_000],
    ['1990-12-31T15:59:60-08:00', 662_688_000],
    // 19 min 32.13 s ahead of UTC was Dutch time; the text says 20 min: 11:40:27.87 UTC on the day 12054 before 1970.
    ['1937-01-01T12:00:27.87+00:20', -12_053 * 86_400 + 11 * 3600 + 40 * 60 + 27.87],
  ])('%s', (text, seconds) => {
    expect(readIso(text)).toMatchObject({ seconds, zoned: true });
  });

  it('5.6: T and Z may be small letters, and a space may stand for T', () => {
    expect(readIso('1985-04-12t23:20:50.52z')?.seconds).toBe(482_196_050.52);
    expect(readIso('1985-04-12 23:20:50.52Z')?.seconds).toBe(482_196_050.52);
  });

  it('5.7: days, hours, minutes and seconds have their limits', () => {
    for (const text of [
      '1985-02-29T00:00:00Z',
      '1985-04-31T00:00:00Z',
      '1985-13-01T00:00:00Z',
      '1985-04-12T24:00:00Z',
      '1985-04-12T23:60:00Z',
      '1985-04-12T23:59:61Z',
      '1985-04-12T23:20:50.52+24:00',
    ]) {
      expect(readIso(text), text).toBeUndefined();
    }
    expect(readIso('1984-02-29T00:00:00Z')?.seconds).toBe(446_860_800);
  });
});
