/**
 * A check is one source, one prose file a language, one test and one line of the registry. Here one is added in that way, and
 * seen in the report, in the archive and in a comparison: none of them knows it by name.
 */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, test, vi } from 'vitest';
import type { Check } from '../../src/checks/check.ts';
import { drawSvg } from '../../src/node/drawer.ts';
import type { Report } from '../../src/report/contract/report.ts';
import type { Content } from '../../src/report/words/content.ts';
import { session, week } from './analysis-fixture.ts';

type Facts = { readonly stands: number };

/** The source. */
const added: Check<Facts> = {
  id: 'clock-draw',
  about: 'vehicle',
  core: true,
  side: 'max',
  causes: ['parked-draw'],
  compared: [{ name: 'clock-charge', unit: 'Ah', better: 'lower', oneLimit: true }],
  needs: [],
  limits: [{ key: 'clockDraw', value: 2, unit: 'Ah', source: 'test' }],
  reasons: [],
  cautions: ['general'],
  answer({ stands }) {
    const value = Math.max(...stands.map((stand) => stand.chargeOutAh));
    const measured = { value, unit: 'Ah', uncertainty: 0.1 } as const;
    const limit = { value: 2, unit: 'Ah', source: 'test' } as const;
    return { status: value > limit.value ? 'fault' : 'clear', measured, limit, facts: { stands: stands.length } };
  },
};

/** The prose. */
const PROSE = `# Clock charge
How much does the clock take from one stand?

## fault
### title
The clock took {{Ah value U}} from one of {{stands}} stands
### plain
The clock takes too much.
### detail
Limit: {{Ah limit}}.
### next steps
- confirm: Stop the clock and log again.

## clear
### title
The clock took {{Ah value U}} at most
### plain
The clock is sound.
### detail
Limit: {{Ah limit}}.

## compared
### clock-charge
Charge for the clock

## method
The charge of the stand that took most.
`;

let folder = '';
let content: Content;
let house: Awaited<ReturnType<typeof loadHouse>>;

/** Everything anew, behind the line in the registry; what other tests have loaded stays as it was. */
async function loadHouse() {
  vi.resetModules();
  const { CHECKS } = await import('../../src/checks/registry.ts');
  // The line.
  (CHECKS as Check[]).push(added);
  return {
    ...(await import('../../src/archive/comparison/comparison.ts')),
    ...(await import('../../src/archive/comparison/comparison-page.ts')),
    ...(await import('../../src/archive/index-page.ts')),
    ...(await import('../../src/archive/stored.ts')),
    ...(await import('../../src/base/problem.ts')),
    ...(await import('../../src/charts/charts.ts')),
    ...(await import('../../src/checks/run.ts')),
    ...(await import('../../src/report/build-report.ts')),
    ...(await import('../../src/node/content.ts')),
    ...(await import('../report/render-page.ts')),
  };
}

beforeAll(async () => {
  house = await loadHouse();
  folder = mkdtempSync(join(tmpdir(), 'standstill-added-'));
  mkdirSync(join(folder, 'words/en/checks'), { recursive: true });
  writeFileSync(join(folder, 'words/en/checks/clock-draw.md'), PROSE);
  content = house.loadContent('en', [join(folder, 'words')]);
});
afterAll(() => {
  vi.resetModules();
  rmSync(folder, { recursive: true, force: true });
});

function build(id: string, sleepA: number, startS = 0) {
  const [analysis, own] = [week({ sleepA }), { ...session(), id, title: id }];
  const findings = house.runChecks(analysis, own);
  const report = house.buildReport({ session: own, analysis, findings, language: 'en', version: '0', content });
  const later = (iso: string) => new Date(Date.parse(iso) + startS * 1000).toISOString();
  const log = { ...report.log, start: later(report.log.start), end: later(report.log.end) };
  return { analysis, session: own, findings, report: { ...report, log } satisfies Report };
}
const before = () => build('before', 0.3);
const after = () => build('after', 0.02, 30 * 86_400);
const spaced = (text: string) => text.replaceAll('\u00a0', ' ');

test('the report tells it: title, limit with its side, place below its cause, axis with the faulty side shaded', () => {
  const { report, findings, ...rest } = before();
  expect(report.findings.at(-1)).toMatchObject({ check: 'clock-draw', status: 'fault', follows: 'parked-draw' });

  const drafts = [...house.draftsOf({ ...house.sceneOf({ ...rest, words: content.words }), findings })].flatMap(
    (one) => one ?? [],
  );
  const axis = drafts.find(({ name }) => name === 'limit-clock-draw');
  expect(JSON.stringify(axis?.spec)).toContain('"type":"rect"');

  const svg = '<svg viewBox="0 0 9 9" role="img"></svg>';
  const html = spaced(
    house.renderPage(
      report,
      drafts.map((draft) => ({ ...draft, svg: draft === axis ? svg.replace('9 9', '77 7') : svg })),
      { pageSize: 'a4', content },
    ),
  );
  expect(html).toMatch(/The clock took [\d.]+ Ah from one of \d+ stands/);
  expect(html).toMatch(/at most 2(\.0+)? Ah/);
  expect(html).toContain('77 7');
  const places = [...html.matchAll(/id="finding-([\w-]+)"/g)].map(([, check]) => check);
  expect(places.indexOf('clock-draw')).toBeGreaterThan(places.indexOf('parked-draw'));
  expect(places.indexOf('clock-draw')).toBeLessThan(places.indexOf('circuit-drop'));
});

test('the archive finds sessions by it, and a comparison says that it is cured', async () => {
  for (const { report } of [before(), after()]) {
    mkdirSync(join(folder, 'out/sessions', report.session.id), { recursive: true });
    writeFileSync(join(folder, 'out/sessions', report.session.id, 'report.json'), JSON.stringify(report));
  }
  expect(await house.writeArchiveIndex(join(folder, 'out'), { content })).toEqual({ sessions: 2, damaged: [] });
  expect(readFileSync(join(folder, 'out/index.html'), 'utf8')).toContain('Clock charge');
  expect(readFileSync(join(folder, 'out/checks.html'), 'utf8')).toContain('How much does the clock take');

  const [was, is] = await Promise.all(
    ['before', 'after'].map(async (id) => {
      const read = await house.readStored(join(folder, 'out/sessions', id), id);
      return 'report' in read ? read.report : expect.unreachable(read.message);
    }),
  );
  const comparison = house.compareReports(was, is);
  expect(comparison.measures.find(({ name }) => name === 'clock-charge')).toMatchObject({ verdict: 'cured' });
  const { html } = await house.makeComparison(comparison, { pageSize: 'a4', content, version: '0', drawSvg });
  expect(html).toContain('Charge for the clock');
});

test('a language without its prose says so when it is loaded, with the name of the file', () => {
  const load = () => house.loadContent('de', [join(folder, 'words')]);
  expect(load).toThrow(house.UserError);
  expect(load).toThrow('content/de/checks/clock-draw.md is missing');
});
