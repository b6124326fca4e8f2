/** A comparison in which every measure has a value, on paper: three pages, each with its own job. */
import { getDocument, VerbosityLevel } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, describe, expect, it } from 'vitest';
import { compareReports } from '../../src/archive/comparison/comparison.ts';
import { makeComparison } from '../../src/archive/comparison/comparison-page.ts';
import type { StoredReport } from '../../src/archive/stored-report.ts';
import { createLazyPrinter } from '../../src/cli/lazy-printer.ts';
import { loadContent } from '../../src/node/content.ts';
import { drawSvg } from '../../src/node/drawer.ts';
import { browserPath } from '../report/browser-here.ts';
import { changed, stored, withFinding } from './reports.ts';

const printer = createLazyPrinter(browserPath);
afterAll(() => printer.close());

type Side = 'before' | 'after';
/** Value before and after, in the report's unit, and its uncertainty. */
const FINDINGS: readonly (readonly [check: string, unit: string, before: number, after: number, U: number])[] = [
  ['parked-draw', 'A', 0.061, 0.018, 0.003],
  ['wake-ups', 'A', 0.16, 0.001, 0.002],
  ['resting-charge', '1', 0.56, 0.99, 0.09],
  ['circuit-link', '1', 0.99, 0.1, 0.01],
  ['stand-time', 's', 300_000, 2_500_000, 100_000],
  ['deep-discharge', 'V', 10.2, 12.4, 0.02],
  ['sleep-time', 's', 4000, 930, 48],
  ['crank-voltage', 'V', 10.25, 10.8, 0.06],
  ['battery-resistance', 'Ω', 0.0081, 0.0063, 0.0004],
];
const JUDGED = 'It lies well beyond the limit of 50 mA, by 61 mA ± 3 mA';

/** A report in which each measure has its value, with so many faults before that are none after, their titles two lines long. */
function full(side: Side, faults: number): StoredReport {
  const start = side === 'before' ? '2026-03-03T00:00:00.000Z' : '2026-03-17T00:00:00.000Z';
  let report = stored(side, start);
  for (const [k, [check, unit, before, after, uncertainty]] of FINDINGS.entries()) {
    const status = side === 'before' && k < faults ? 'fault' : 'clear';
    report = withFinding(report, check, status, { value: side === 'before' ? before : after, unit, uncertainty });
  }
  report = withFinding(report, 'charging-low', 'clear', { value: 14.41, unit: 'V', uncertainty: 0.02 });
  report = withFinding(report, 'charge-balance', 'clear', { value: 6, unit: 'Ah', uncertainty: 0.2 });
  return changed(report, (own) => {
    const at = (hours: number) => new Date(Date.parse(start) + hours * 3_600_000).toISOString();
    own.log.end = at(120);
    const [stand] = own.parked;
    const draw = side === 'before' ? 0.061 : 0.018;
    own.parked = [0, 50].map((hours) => ({
      ...stand,
      start: at(hours),
      end: at(hours + 40),
      key_off_in_log: true,
      sleep_draw_a: draw,
      rest_voltage_v: side === 'before' ? 12.23 : 12.62,
      state_of_charge: side === 'before' ? 0.56 : 0.99,
    }));
    for (const finding of own.findings) finding.title = JUDGED;
  });
}

async function pagesOf(pdf: Buffer): Promise<{ text: string; sizePt: (words: string) => number }[]> {
  const opened = await getDocument({ data: new Uint8Array(pdf), verbosity: VerbosityLevel.ERRORS }).promise;
  const pages = [];
  for (let number = 1; number <= opened.numPages; number++) {
    const { items } = await (await opened.getPage(number)).getTextContent();
    const said = items.flatMap((item) => ('str' in item ? [item] : []));
    pages.push({
      text: said.map(({ str }) => str).join(' '),
      sizePt: (words: string) => said.find(({ str }) => str.includes(words))?.height ?? 0,
    });
  }
  await opened.destroy();
  return pages;
}

async function printed(language: string, pageSize: 'a4' | 'letter', faults: number) {
  const comparison = compareReports(full('before', faults), full('after', faults));
  expect(comparison.measures.filter(({ difference }) => difference !== null)).toHaveLength(9);
  expect(comparison.findings).toHaveLength(faults);
  const content = loadContent(language);
  const { html, dateMs } = await makeComparison(comparison, { pageSize, content, version: '0', drawSvg });
  const pages = await pagesOf((await printer.print('comparison', html, pageSize, dateMs)) ?? Buffer.alloc(0));
  return { content, pages };
}

describe.skipIf(!browserPath)('a whole comparison on paper', () => {
  const CASES = (['en', 'de'] as const).flatMap((language) =>
    (['a4', 'letter'] as const).map((pageSize) => [language, pageSize] as const),
  );

  it.each(CASES)('is three pages, and no table is cut (%s, %s)', { timeout: 60_000 }, async (language, pageSize) => {
    const { content, pages } = await printed(language, pageSize, 6);
    const on = (words: string) => pages.flatMap(({ text }, k) => (text.includes(words) ? [k + 1] : []));
    expect(pages).toHaveLength(3);
    expect(on(content.label('comparison.measures'))).toEqual([1]);
    expect(on(content.label('comparison.chart_measures'))).toEqual([2]);
    expect(on(content.label('comparison.findings'))).toEqual([2]);
    expect(on(JUDGED.slice(0, 20))).toEqual([2]);
    expect(on(content.label('comparison.chart_events'))).toEqual([3]);
    expect(on(content.label('method.heading'))).toEqual([3]);
    expect(pages[2].sizePt('JCGM')).toBeGreaterThanOrEqual(8.5);
  });

  it.each(CASES)('is three pages with more faults too (%s, %s)', { timeout: 60_000 }, async (language, pageSize) => {
    expect((await printed(language, pageSize, FINDINGS.length)).pages).toHaveLength(3);
  });
});
