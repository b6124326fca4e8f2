/** What the page's script draws from, held against the tiles that it is made of: summed here in another way, row by row. */
import { describe, expect, it } from 'vitest';
import { seriesOf } from '../../../src/report/page/series.ts';
import { madeUp } from '../../charts/made-up.ts';

const { analysis, session } = madeUp();
const { tiles, start } = analysis;
const series = seriesOf(analysis, session);
const known = [...tiles.netAs.subarray(0, tiles.n)].map((net) => (Number.isNaN(net) ? 0 : net));

describe('the series of a page', () => {
  it('has points in order, within the log, that reach every extreme', () => {
    for (const [points, low, high] of [
      [series.voltage, tiles.vMin, tiles.vMax],
      [series.current, tiles.iMin, tiles.iMax],
    ] as const) {
      const times = points?.t ?? [];
      expect(times.every((t, k) => k === 0 || t >= (times[k - 1] ?? 0))).toBe(true);
      expect(times[0]).toBeGreaterThanOrEqual(0);
      expect(times.at(-1)).toBeLessThanOrEqual(analysis.end - start + 0.1);
      const all = (values: readonly (number | null)[] = []) => values.flatMap((value) => value ?? []);
      expect(Math.min(...all(points?.lo))).toBeLessThanOrEqual(Math.min(...low.subarray(0, tiles.n)) + 0.01);
      expect(Math.max(...all(points?.hi))).toBeGreaterThanOrEqual(Math.max(...high.subarray(0, tiles.n)) - 0.01);
    }
  });

  it('is finer around starts and wakes, and holds each reading of a start', () => {
    const [crank] = analysis.cranks;
    const inWindow = series.voltage.t.filter((t) => Math.abs(start + t - (crank?.at ?? 0)) < 5);
    // The made-up log begins within the first start's window.
    const readings = crank?.wave.t.filter((t) => t >= start).length ?? 0;
    expect(readings).toBeGreaterThan(100);
    expect(inWindow.length).toBeGreaterThanOrEqual(readings);
    const lowest = Math.min(...(crank?.wave.v ?? []));
    expect(series.voltage.lo.some((v) => v !== null && Math.abs(v - lowest) < 0.001)).toBe(true);
  });

  it('sums up the charge as the tiles have it', () => {
    const { ah = [], wh = [] } = series.sums ?? {};
    const whole = known.reduce((sum, net) => sum + net, 0) / 3600;
    expect(ah.at(-1)).toBeCloseTo(whole, 2);
    expect(ah).toHaveLength(series.current?.t.length ?? -1);
    // At some 12 V.
    expect((wh.at(-1) ?? 0) / (ah.at(-1) ?? 1)).toBeGreaterThan(5);
    const middle = Math.floor(ah.length / 3);
    const at = start + (series.current?.t[middle] ?? 0);
    const before = known.reduce((sum, net, k) => {
      const [from, to] = [tiles.t0[k] ?? 0, tiles.t1[k] ?? 0];
      return sum + net * Math.min(1, Math.max(0, (at - from) / (to - from)));
    }, 0);
    expect(ah[middle]).toBeCloseTo(before / 3600, 2);
  });

  it('knows how long which draw flowed, asleep and awake', () => {
    const { asleep = [], awake = [], edges = [] } = series.shares ?? {};
    const total = (values: readonly number[]) => values.reduce((sum, s) => sum + s, 0);
    const spans = (kinds: readonly string[]) =>
      total(analysis.periods.filter(({ kind }) => kinds.includes(kind)).map(({ start: from, end }) => end - from));
    expect(total(asleep)).toBeGreaterThan(0.95 * spans(['asleep']));
    expect(total(asleep)).toBeLessThan(1.05 * spans(['asleep']));
    expect(total(awake)).toBeLessThan(1.05 * spans(['awake', 'settling']));
    const usual = asleep.indexOf(Math.max(...asleep));
    expect(edges[usual]).toBeLessThan(0.2);
  });
});
