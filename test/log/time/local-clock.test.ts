import { expect, it } from 'vitest';
import { zoneOf } from '../../../src/base/zone.ts';
import { createLocalClock } from '../../../src/log/time/local-clock.ts';

/** Wall-clock times of Berlin, read as if of UTC, s. */
const wall = (text: string) => Date.parse(`${text}Z`) / 1000;

function utcOf(...texts: readonly string[]) {
  const told: string[] = [];
  const t = Float64Array.from(texts.map(wall));
  createLocalClock(zoneOf('Europe/Berlin')).toUtc(t, t.length, (kind, row) => told.push(`${kind} ${row}`));
  return { utc: [...t].map((s) => new Date(s * 1000).toISOString().slice(0, 16)), told };
}

it('knows winter and summer', () => {
  expect(utcOf('2026-01-10T12:00', '2026-07-10T12:00').utc).toEqual(['2026-01-10T11:00', '2026-07-10T10:00']);
});

// Clocks go from 3:00 back to 2:00 on 25 October 2026 (Directive 2000/84/EC: the last Sunday, at 1:00 UTC).
it('an hour that comes twice goes by the rows: the second time where the first lies behind', () => {
  const { utc, told } = utcOf('2026-10-25T02:30', '2026-10-25T02:45', '2026-10-25T02:30', '2026-10-25T03:15');
  expect(utc).toEqual(['2026-10-25T00:30', '2026-10-25T00:45', '2026-10-25T01:30', '2026-10-25T02:15']);
  expect(told).toEqual(['ambiguous-time 0', 'ambiguous-time 1', 'ambiguous-time 2']);
});

it('a time that the clock change skipped is read as if the clock had not been changed yet, and told', () => {
  const { utc, told } = utcOf('2026-03-29T01:59', '2026-03-29T02:30');
  expect(utc).toEqual(['2026-03-29T00:59', '2026-03-29T01:30']);
  expect(told).toEqual(['impossible-time 1']);
});
