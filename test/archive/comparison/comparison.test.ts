import { describe, expect, it } from 'vitest';
import { compareReports } from '../../../src/archive/comparison/comparison.ts';
import { makeComparison } from '../../../src/archive/comparison/comparison-page.ts';
import { OVERALL, REASONS } from '../../../src/archive/comparison/reasons.ts';
import { loadContent } from '../../../src/node/content.ts';
import { drawSvg } from '../../../src/node/drawer.ts';
import { part, readSections } from '../../../src/report/words/prose.ts';
import { changed, stored, withFinding } from '../reports.ts';

const content = loadContent('en');
const before = stored('before', '2026-03-03T00:00:00.000Z');
const after = stored('after', '2026-03-20T00:00:00.000Z');
const draw = (report: typeof before, mA: number, status: string, uncertaintyMa = 3) =>
  withFinding(report, 'parked-draw', status, { value: mA / 1000, unit: 'A', uncertainty: uncertaintyMa / 1000 });
const measure = (b: typeof before, a: typeof before, name: string) => {
  const found = compareReports(b, a).measures.find((one) => one.name === name);
  if (!found) throw new Error(`no ${name}`);
  return found;
};

describe('a measure before and after', () => {
  it('is cured where a fault is gone and the difference exceeds its uncertainty, which is the root sum of squares', () => {
    const one = measure(draw(before, 62, 'fault', 3), draw(after, 18, 'clear', 4), 'sleep-draw');
    expect(one.difference).toBeCloseTo(-0.044, 12);
    expect(one.differenceUncertainty).toBeCloseTo(0.005, 12);
    expect(one).toMatchObject({ verdict: 'cured', reason: 'cured' });
  });

  it.each([
    ['clear', 52, 3, 'clear', 20, 'not-shown', 'no-fault-before'],
    ['fault', 62, 3, 'fault', 55, 'not-shown', 'still-fault-less'],
    ['fault', 62, 3, 'fault', 61, 'not-shown', 'still-fault'],
    ['fault', 62, 40, 'clear', 30, 'not-shown', 'within-uncertainty'],
    ['fault', 62, 3, 'watch', 40, 'not-shown', 'watch-after'],
    ['clear', 20, 3, 'fault', 62, 'worse', 'worse'],
    ['fault', 62, 3, 'fault', 90, 'worse', 'worse'],
    ['clear', 49, 3, 'fault', 51, 'undecided', 'new-fault-within-uncertainty'],
    ['undecided', 51, 3, 'clear', 20, 'undecided', 'before-open'],
    ['fault', 62, 3, 'undecided', 51, 'undecided', 'after-open'],
  ])('%s at %d ± %d mA, then %s at %d mA: %s, %s', (was, mA, U, is, later, verdict, reason) => {
    expect(measure(draw(before, mA, was, U), draw(after, later, is, U), 'sleep-draw')).toMatchObject({
      verdict,
      reason,
    });
  });

  it('is not told where a report lacks it, with the words of the report on why', async () => {
    const without = withFinding(after, 'parked-draw', 'undecided', null, 'The log holds no sleep.');
    const comparison = compareReports(draw(before, 62, 'fault'), without);
    expect(comparison.measures[0]).toMatchObject({ verdict: 'undecided', reason: 'no-value', difference: null });
    const { json } = await makeComparison(comparison, { pageSize: 'a4', content, version: '0', drawSvg });
    expect(JSON.stringify(json)).toContain('The log after does not show it. The log holds no sleep.');
  });

  it('is not told where the limit moved: a repair does not change the limit', () => {
    const raised = changed(draw(after, 18, 'clear'), (report) => {
      for (const finding of report.findings) if (finding.limit) finding.limit.value = 0.085;
    });
    expect(measure(draw(before, 62, 'fault'), raised, 'sleep-draw')).toMatchObject({ reason: 'limits-differ' });
  });

  it('of cranking is not told where one log was much colder', () => {
    const at = (report: typeof before, temperature_c: number, volts: number, status: string) =>
      changed(withFinding(report, 'crank-voltage', status, { value: volts, unit: 'V', uncertainty: 0.05 }), (own) => {
        own.cranks = [{ ...own.cranks[0], temperature_c, volts_cranking: volts }];
      });
    const cold = at(before, -8, 8.1, 'fault');
    expect(measure(cold, at(after, 12, 10, 'clear'), 'cranking-voltage')).toMatchObject({
      verdict: 'undecided',
      reason: 'temperatures-differ',
    });
    expect(measure(cold, at(after, 0, 10, 'clear'), 'cranking-voltage')).toMatchObject({ verdict: 'cured' });
  });

  it('counts no wake in half a day as few, not as none', () => {
    const half = changed(after, (report) => {
      report.wakes = [];
      report.wake_patterns = [];
      report.totals.asleep_s = 43_200;
    });
    const { after: none } = measure(before, half, 'wakes-per-day');
    expect(none.value).toBe(0);
    // Of a count of 0 the exact 95 % bound is 3.69 (Garwood 1936), here in half a day.
    expect(none.uncertainty).toBeCloseTo(2 * 3.689, 2);
  });
});

describe('the verdict on the whole', () => {
  const cured = [draw(before, 62, 'fault'), draw(after, 18, 'clear')] as const;

  it('is cured where every fault is', () => {
    expect(compareReports(...cured)).toMatchObject({ verdict: 'cured', reason: 'all-cured' });
  });

  it('is worse where one figure is, whatever else is cured', () => {
    const hot = withFinding(cured[1], 'sleep-time', 'fault', { value: 7200, unit: 's', uncertainty: 60 });
    const quick = withFinding(cured[0], 'sleep-time', 'clear', { value: 900, unit: 's', uncertainty: 60 });
    expect(compareReports(quick, hot)).toMatchObject({ verdict: 'worse', reason: 'some-worse' });
  });

  it('says so where the cured vehicle has a fault that it did not have', () => {
    const was = withFinding(cured[0], 'charging-low', 'clear', null);
    const is = withFinding(cured[1], 'charging-low', 'fault', null);
    expect(compareReports(was, is)).toMatchObject({ verdict: 'cured', reason: 'cured-new-fault' });
  });

  it('is not told where a fault has no figure to go by', () => {
    const held = withFinding(cured[0], 'held-awake', 'fault', null);
    expect(compareReports(held, withFinding(cured[1], 'held-awake', 'clear', null))).toMatchObject({
      verdict: 'undecided',
      reason: 'not-measured',
    });
    expect(compareReports(held, withFinding(cured[1], 'held-awake', 'fault', null)).verdict).toBe('not-shown');
  });

  it('has nothing to cure between two sound logs, and does not judge another vehicle', () => {
    expect(compareReports(before, after)).toMatchObject({ verdict: 'not-shown', reason: 'nothing-to-cure' });
    const other = changed(cured[1], (report) => {
      report.session.vehicle.registration = '999-X-1';
    });
    expect(compareReports(cured[0], other)).toMatchObject({ verdict: 'undecided', reason: 'another-vehicle' });
  });

  it('refuses the two in the wrong order, and a session with itself', () => {
    expect(() => compareReports(after, before)).toThrow(/exchange the two/);
    expect(() => compareReports(before, before)).toThrow(/takes two/);
  });
});

describe('the page', () => {
  it('has words for every reason', () => {
    const prose = readSections('comparison.md', content.text('comparison.md'));
    for (const key of REASONS) expect(part(part(prose, 'reasons'), key)?.source, key).toBeTruthy();
    for (const key of OVERALL) expect(part(part(prose, 'whole'), key)?.source, key).toBeTruthy();
  });

  it('leaves out whose the other vehicle is, where there are two', async () => {
    const other = changed(before, (report) => {
      report.session.vehicle.registration = '999-X-1';
      report.session.repair_order = 'HL-999';
    });
    const { html } = await makeComparison(compareReports(other, after), {
      pageSize: 'a4',
      content,
      version: '0',
      drawSvg,
    });
    expect(html).not.toMatch(/999-X-1|HL-999/);
    expect(html).toContain('171-D-00000');
  });

  it('is the same each time, tells what is gone and new, and is inert whatever the reports hold', async () => {
    const evil = changed(withFinding(draw(before, 62, 'fault'), 'charging-low', 'clear', null), (report) => {
      report.session.title = '<script>alert(1)</script>';
    });
    const now = withFinding(draw(after, 18, 'clear'), 'charging-low', 'fault', null);
    const make = () => makeComparison(compareReports(evil, now), { pageSize: 'a4', content, version: '0', drawSvg });
    const [one, two] = [await make(), await make()];
    expect(JSON.stringify(two)).toBe(JSON.stringify(one));
    expect(one.html).not.toMatch(/<script|https?:/);
    expect(one.html).toContain('>gone<');
    expect(one.html).toContain('>new<');
    expect(one.charts.map(({ name }) => name)).toEqual(['measures', 'events']);
  });

  it('draws one measure as wide as several, and so in type of one size', async () => {
    const bare = (report: typeof before) =>
      changed(report, (own) => {
        own.totals.asleep_s = 0;
        own.parked = [];
        own.wakes = [];
      });
    const measures = async (b: typeof before, a: typeof before) => {
      const { html, charts } = await makeComparison(compareReports(b, a), {
        pageSize: 'a4',
        content,
        version: '0',
        drawSvg,
      });
      const spec = charts.find(({ name }) => name === 'measures')?.spec;
      const px = /aria-labelledby="compare-measures-title[^>]* width="(\d+)"/.exec(html)?.[1];
      return { px, cells: spec && 'concat' in spec ? (spec.concat as object[]).length : 0 };
    };
    expect(await measures(bare(before), bare(after))).toEqual({ px: '720', cells: 1 });
    expect(await measures(before, after)).toEqual({ px: '720', cells: expect.toSatisfy((n) => n > 2) });
  });
});

describe('a healthy vehicle of the model', () => {
  const model = (report: typeof before, registration: string, purpose: 'baseline' | 'complaint') =>
    changed(report, (own) => {
      Object.assign(own.session, { purpose });
      Object.assign(own.session.vehicle, { model: 'Panel van', registration });
    });
  const healthy = model(draw(before, 18, 'clear'), 'A-1', 'baseline');
  const own = model(draw(after, 62, 'fault'), 'B-1', 'complaint');

  it('is set beside, and neither cures nor accuses', () => {
    const comparison = compareReports(healthy, own);
    expect(comparison).toMatchObject({ verdict: 'undecided', reason: 'model-baseline' });
    expect(comparison.measures[0]).toMatchObject({ name: 'sleep-draw', reason: 'differs' });
    const alike = compareReports(healthy, model(draw(after, 20, 'clear'), 'B-1', 'complaint'));
    expect(alike.measures[0]).toMatchObject({ reason: 'alike' });
  });

  it('may have been logged later, and must be healthy and of the model', () => {
    const late = changed(healthy, (one) => {
      one.log.start = '2026-05-01T00:00:00.000Z';
    });
    expect(compareReports(late, own).reason).toBe('model-baseline');
    expect(compareReports(draw(healthy, 90, 'fault'), own).reason).toBe('another-vehicle');
    expect(compareReports(model(healthy, 'A-1', 'complaint'), own).reason).toBe('another-vehicle');
  });

  it('is called what it is on the page, and not whose', async () => {
    const { html } = await makeComparison(compareReports(healthy, own), {
      pageSize: 'a4',
      content,
      version: '0',
      drawSvg,
    });
    expect(html).toContain('<h1>Beside a healthy vehicle of the model</h1>');
    expect(html).toContain('dashed: healthy');
    expect(html).not.toContain('A-1');
    expect(html).not.toContain('Cannot be told');
  });
});
