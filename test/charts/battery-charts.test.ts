import { expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { runChecks } from '../../src/checks/run.ts';
import { session, standing, week } from '../checks/analysis-fixture.ts';
import { withCranks, withTiles } from '../checks/tile-story.ts';
import { draftCharts } from './drafts.ts';
import { ENGLISH } from './english.ts';
import { svgOf } from './svg-of.ts';

/** Only the chart that is asked for is drawn. */
async function draw(analysis: Analysis, name: string) {
  const manifest = session();
  const drafts = draftCharts({ analysis, session: manifest, findings: runChecks(analysis, manifest), words: ENGLISH });
  const draft = drafts.find((one) => one.name === name);
  return draft && { ...draft, svg: await svgOf(draft.spec, { title: name, desc: name, idPrefix: name }) };
}

test('resistance: a dot for each crank, and the limit of the rating', async () => {
  const analysis = withCranks(week(), (k) => ({ resistanceOhm: { value: 0.005 + 0.0001 * k, u: 0.0002 } }));
  const chart = await draw(analysis, 'battery-resistance');
  expect(chart?.altFacts).toMatchObject({ cranks: 14, lowestOhm: 0.005 });
  expect(chart?.altFacts.highestOhm).toBeCloseTo(0.0063, 6);
  // 5.0 V over 680 A at −18 °C, and at 15 °C some 0.78 of it: the load test's falls.
  expect(chart?.svg).toMatch(/5\.7\d?\u00a0mΩ/);
  expect(await draw(week({ resistanceOhm: null }), 'battery-resistance')).toBeUndefined();
});

test('deep discharge: drawn only where the battery was low', async () => {
  const drained = withTiles(standing(36), (t) => ({ v: t % 7200 < 3600 ? 10.1 : 11.8 }));
  expect((await draw(drained, 'deep-discharge'))?.altFacts).toEqual({ lowestV: 10.1, limitV: 10.5 });
  expect(
    await draw(
      withTiles(standing(36), () => ({ v: 12.6 })),
      'deep-discharge',
    ),
  ).toBeUndefined();
});

test('freezing: drawn only where it was cold enough to need a charge', async () => {
  const cold = (temp: number) =>
    withTiles(standing(36, { restV: 12.2, temperatureC: temp }), () => ({ v: 12.2, temp }));
  const chart = await draw(cold(-20), 'freeze-risk');
  expect(chart?.altFacts.stands).toBe(1);
  expect(chart?.altFacts.warmestFreezingC).toBeLessThan(0);
  expect(await draw(cold(10), 'freeze-risk')).toBeUndefined();
});

test('charge: a log of many years has few bars', () => {
  const analysis = standing(36);
  const { start } = analysis;
  const years = 150 * 366 * 86_400;
  const long = {
    ...analysis,
    end: start + years,
    periods: [{ ...analysis.periods[0], start, end: start + years, chargeInAh: 1, chargeOutAh: 3 }],
  };
  const subject = { analysis: long, session: session(), findings: [], words: ENGLISH };
  const chart = draftCharts(subject).find(({ name }) => name === 'charge-balance');
  expect(chart?.altFacts.days).toBeLessThan(61);
  // Every Ah is in a bar all the same.
  const values = JSON.stringify(chart?.spec).match(/"values":\[\{"t":[^\]]*"out":(true|false)[^\]]*\]/)?.[0] ?? '';
  const bars = JSON.parse(`{${values}}`).values as { y: number; out: boolean }[];
  expect(bars.reduce((sum, { y, out }) => sum + (out ? 0 : y), 0)).toBeCloseTo(1, 1);
  expect(bars.reduce((sum, { y, out }) => sum + (out ? y : 0), 0)).toBeCloseTo(-3, 1);
  expect(JSON.stringify(chart?.spec)).toMatch(/by \d+ wk/);
});
