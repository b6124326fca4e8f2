/** A parked vehicle whose own converter charges: told by the current and the voltage that it holds. */
import { describe, expect, it } from 'vitest';
import type { Span } from '../../../src/analysis/model.ts';
import { topUps } from '../../../src/measures/portrait/top-ups.ts';
import { session, week } from '../../checks/analysis-fixture.ts';
import { withTiles } from '../../checks/tile-story.ts';

/** In the fourth night, `at` hours after key-off, each of an hour with 8 A; seen a minute too wide on either side. */
function fed(hours: readonly number[]) {
  const analysis = week();
  const { start } = analysis.stands[3];
  const spans: Span[] = hours.map((hour) => ({ start: start + hour * 3600, end: start + (hour + 1) * 3600 }));
  const isOn = (t: number) => spans.some((span) => t > span.start && t < span.end);
  const tiled = withTiles(analysis, (t) => (isOn(t) ? { v: 14.4, i: 8 } : { v: 12.8, i: -0.02 }), 10);
  const wide = spans.map((span) => ({ start: span.start - 60, end: span.end + 60 }));
  return { found: topUps({ ...tiled, topUps: wide }, session()), spans };
}

describe('one top-up', () => {
  it('begins and ends with its current', () => {
    const { found, spans } = fed([2]);
    expect(found.all).toHaveLength(1);
    const [one] = found.all;
    expect(Math.abs(one.start - spans[0].start)).toBeLessThanOrEqual(10);
    expect(Math.abs(one.end - spans[0].end)).toBeLessThanOrEqual(10);
    expect(one.chargeAh).toBeCloseTo(8, 1);
    expect(one.volts).toBeCloseTo(14.4, 2);
    expect(one.endAmps).toBeCloseTo(8, 6);
    expect(one).toMatchObject({ stand: 3, endedByKeyOn: false });
    expect(one.afterS).toBeCloseTo(2 * 3600, -2);
  });
});

it('three at even times keep a clock, at odd times they do not', () => {
  expect(fed([2, 5, 8]).found.periodS).toBeCloseTo(3 * 3600, -1);
  expect(fed([2, 4, 9]).found.periodS).toBeNull();
});

it('none are none', () => {
  expect(topUps(week(), session())).toMatchObject({ all: [], periodS: null, seconds: null });
});
