import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { UserError } from '../../src/base/problem.ts';
import { zoneOf } from '../../src/base/zone.ts';

const HOUR = 3_600_000;
const at = (text: string) => Date.parse(`${text}Z`);
const iso = (ms: number) => new Date(ms).toISOString().slice(0, 19);

describe('clock changes', () => {
  // [zone, wall-clock time, the instants it may mean in UTC]
  const ambiguous: [string, string, string[]][] = [
    ['Europe/Dublin', '2026-10-25T01:30:00', ['2026-10-25T00:30:00', '2026-10-25T01:30:00']],
    ['America/New_York', '2026-11-01T01:00:00', ['2026-11-01T05:00:00', '2026-11-01T06:00:00']],
    ['Australia/Sydney', '2026-04-05T02:59:59', ['2026-04-04T15:59:59', '2026-04-04T16:59:59']],
    ['Australia/Lord_Howe', '2026-04-05T01:45:00', ['2026-04-04T14:45:00', '2026-04-04T15:15:00']],
  ];
  it.each(ambiguous)('%s %s is ambiguous', (zone, local, expected) => {
    const { candidates, shifted } = zoneOf(zone).localToUtc(at(local));
    expect(candidates.map(iso)).toEqual(expected);
    expect(shifted).toBeUndefined();
  });

  const skipped: [string, string, string][] = [
    ['Europe/Dublin', '2026-03-29T01:30:00', '2026-03-29T01:30:00'],
    ['America/New_York', '2026-03-08T02:00:00', '2026-03-08T07:00:00'],
    ['Australia/Sydney', '2026-10-04T02:59:59', '2026-10-03T16:59:59'],
    ['Australia/Lord_Howe', '2026-10-04T02:15:00', '2026-10-03T15:45:00'],
    // A whole day that never was: the island moved across the date line.
    ['Pacific/Apia', '2011-12-30T12:00:00', '2011-12-30T22:00:00'],
  ];
  it.each(skipped)('%s %s does not exist', (zone, local, expected) => {
    const { candidates, shifted } = zoneOf(zone).localToUtc(at(local));
    expect(candidates).toEqual([]);
    expect(iso(shifted as number)).toBe(expected);
  });

  const plain: [string, string, string][] = [
    ['Europe/Dublin', '2026-03-29T00:59:59', '2026-03-29T00:59:59'],
    ['Europe/Dublin', '2026-03-29T02:00:00', '2026-03-29T01:00:00'],
    ['Europe/Dublin', '2026-10-25T00:59:59', '2026-10-24T23:59:59'],
    ['Europe/Dublin', '2026-10-25T02:00:00', '2026-10-25T02:00:00'],
    ['America/New_York', '2026-03-08T03:00:00', '2026-03-08T07:00:00'],
    ['Australia/Lord_Howe', '2026-10-04T02:30:00', '2026-10-03T15:30:00'],
    ['Asia/Kathmandu', '2026-01-01T00:00:00', '2025-12-31T18:15:00'],
    ['UTC', '2026-03-29T01:30:00', '2026-03-29T01:30:00'],
  ];
  it.each(plain)('%s %s is one instant', (zone, local, expected) => {
    expect(zoneOf(zone).localToUtc(at(local)).candidates.map(iso)).toEqual([expected]);
  });

  it('changes at the very second', () => {
    const dublin = zoneOf('Europe/Dublin');
    expect(dublin.offsetMs(at('2026-03-29T01:00:00') - 1)).toBe(0);
    expect(dublin.offsetMs(at('2026-03-29T01:00:00'))).toBe(HOUR);
    expect(dublin.offsetMs(at('2026-10-25T01:00:00') - 1)).toBe(HOUR);
    expect(dublin.offsetMs(at('2026-10-25T01:00:00'))).toBe(0);
  });
});

describe('any instant', () => {
  const name = fc.constantFrom(
    'Europe/Dublin',
    'America/New_York',
    'Australia/Lord_Howe',
    'Africa/Casablanca',
    'Pacific/Apia',
  );
  const instant = fc.integer({ min: at('1970-01-01T00:00:00'), max: at('2040-01-01T00:00:00') });

  it('comes back from its wall-clock time', () => {
    fc.assert(
      fc.property(name, instant, (iana, utc) => {
        const zone = zoneOf(iana);
        expect(zone.localToUtc(utc + zone.offsetMs(utc)).candidates).toContain(utc);
      }),
    );
  });

  it('has the offset that the runtime itself prints', () => {
    fc.assert(
      fc.property(name, instant, (iana, utc) => {
        const whole = Math.floor(utc / 1000) * 1000;
        const printed = new Intl.DateTimeFormat('sv-SE', { timeZone: iana, dateStyle: 'short', timeStyle: 'medium' });
        expect(iso(whole + zoneOf(iana).offsetMs(whole)).replace('T', ' ')).toBe(printed.format(whole));
      }),
    );
  });
});

describe('odd questions', () => {
  it('survives times that are no times', () => {
    const zone = zoneOf('Europe/Dublin');
    expect(zone.offsetMs(Number.NaN)).toBeNaN();
    expect(zone.localToUtc(Number.NaN).candidates).toEqual([]);
    expect(zone.offsetMs(Number.POSITIVE_INFINITY)).toBe(0);
    expect(zone.localToUtc(1e17).candidates).toHaveLength(1);
  });

  it.each(['Europe/Dublim', '+01:00', 'IST', 'EST', '', '../../etc/passwd', 'x'.repeat(100_000)])(
    'refuses %.40s',
    (iana) => {
      expect(() => zoneOf(iana)).toThrow(UserError);
    },
  );

  it('names the nearest zone', () => {
    expect(() => zoneOf('Europe/Dublim')).toThrow('Did you mean Europe/Dublin?');
  });

  it('mends letter case and keeps an alias', () => {
    expect(zoneOf('europe/dublin').name).toBe('Europe/Dublin');
    expect(zoneOf('utc').name).toBe('UTC');
    expect(zoneOf('US/Eastern').name).toBe('US/Eastern');
  });

  it('asks Intl only once a zone and year', () => {
    const zone = zoneOf('America/New_York');
    const start = at('2026-10-30T00:00:00');
    zone.localToUtc(start);
    const format = Intl.DateTimeFormat.prototype.formatToParts;
    Intl.DateTimeFormat.prototype.formatToParts = () => {
      throw new Error('asked again');
    };
    try {
      for (let minute = 0; minute < 4 * 1440; minute++) zone.localToUtc(start + minute * 60_000);
    } finally {
      Intl.DateTimeFormat.prototype.formatToParts = format;
    }
  });
});
