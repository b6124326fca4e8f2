/** The published JSON Schemas, held by an independent validator (ajv) against what the program writes and has written. */
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { compareReports } from '../../../src/archive/comparison/comparison.ts';
import { makeComparison } from '../../../src/archive/comparison/comparison-page.ts';
import { asStored } from '../../../src/archive/stored-report.ts';
import { nodeFiles } from '../../../src/base/disk/node-files.ts';
import { runChecks } from '../../../src/checks/run.ts';
import { run } from '../../../src/cli/run.ts';
import { writeDemo } from '../../../src/demo/scenarios.ts';
import { readSession } from '../../../src/manifest/read-session.ts';
import { loadContent } from '../../../src/node/content.ts';
import { drawSvg } from '../../../src/node/drawer.ts';
import { readLogs } from '../../../src/node/make-report.ts';
import { buildReport } from '../../../src/report/build-report.ts';
import { type Report, ReportContract } from '../../../src/report/contract/report.ts';
import { recordingTerminal } from '../../cli/terminal.ts';
import { disk } from '../../demo/disk.ts';
import { sampleReport } from '../sample.ts';
import { type Node, SCHEMAS, strictFaults } from './strict.ts';

const folder = mkdtempSync(join(tmpdir(), 'standstill-contract-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));

const asRead = (value: unknown) => JSON.parse(JSON.stringify(value));

async function reportOf(path: string): Promise<Report> {
  const session = readSession(path, nodeFiles);
  const analysis = await readLogs(session);
  const findings = runChecks(analysis, session);
  return buildReport({ session, analysis, findings, language: 'en', version: '0.1.0', content: loadContent('en') });
}

describe('the published schemas', () => {
  it('take the reports and the comparison of the demo, and describe every key in them', {
    timeout: 300_000,
  }, async () => {
    const reports: Report[] = [];
    for (const path of await writeDemo(folder, disk)) reports.push(asRead(await reportOf(path)) as Report);
    expect(reports.length).toBeGreaterThan(2);
    for (const report of reports) expect(strictFaults(report, 'report')).toEqual([]);
    const [before, after] = ['complaint', 'after-repair'].map((purpose) => {
      const found = reports.find(({ session }) => session.purpose === purpose);
      return asStored(found as Report);
    });
    const options = { pageSize: 'a4', content: loadContent('en'), version: '0.1.0', drawSvg } as const;
    const { json } = await makeComparison(compareReports(before, after), options);
    expect(strictFaults(asRead(json), 'comparison')).toEqual([]);
  });

  it('take what version 0.1.0 wrote, and say what it lacks', () => {
    const file = join(import.meta.dirname, '../../archive/stored-1/report.json');
    const value = JSON.parse(readFileSync(file, 'utf8'));
    expect(strictFaults(value, 'report')).toEqual([]);
    const read = ReportContract.parse(value);
    expect(read.session).toMatchObject({ redacted: false, limits_from: null, photos_taken: [] });
  });

  it.each<[string, (report: Record<string, never>) => void]>([
    ['/session/id', ({ session }) => Object.assign(session, { id: '../up' })],
    ['/session/purpose', ({ session }) => Object.assign(session, { purpose: 'repair' })],
    ['/log/start', ({ log }) => Object.assign(log, { start: '2026-03-03 17:40' })],
    ['/log/files', ({ log }) => Object.assign(log, { files: [] })],
    ['/totals/parked_s', ({ totals }) => Object.assign(totals, { parked_s: -1 })],
    ['/findings/0/status', ({ findings }) => Object.assign(findings[0], { status: 'bad' })],
    ['', (report) => delete (report as { drives?: unknown }).drives],
  ])('refuse what does not fit, with its place: %s', (path, change) => {
    const report = asRead(sampleReport());
    change(report);
    expect(strictFaults(report, 'report').join('\n')).toContain(`${path}: must`);
    expect(ReportContract.safeParse(report).success).toBe(false);
  });

  it('let through what a later version adds', () => {
    const report = asRead(sampleReport());
    Object.assign(report.session.vehicle, { colour: 'blue' });
    Object.assign(report.periods[0], { kind: 'towed' });
    expect(ReportContract.safeParse(report).success).toBe(true);
    expect(strictFaults(report, 'report')).toEqual([
      '.session.vehicle.colour: no description',
      '.periods[].kind: the word towed is not listed',
    ]);
  });

  it.each(['report', 'comparison'] as const)('describe every key of a %s', (of) => {
    const silent: string[] = [];
    const visit = (node: Node, path: string) => {
      for (const [key, inner] of Object.entries(node.properties ?? {})) {
        if (!inner.description) silent.push(`${path}.${key}`);
        visit(inner, `${path}.${key}`);
      }
      for (const inner of [node.items, ...(node.anyOf ?? [])]) if (inner) visit(inner, path);
    };
    visit(SCHEMAS[of], '');
    expect(silent).toEqual([]);
  });

  it('say of every key that files may lack since when they have it, or that it is to come', () => {
    const visit = (node: Node): string[] => [
      ...Object.entries(node.properties ?? {}).flatMap(([key, inner]) => [
        ...(node.required?.includes(key) || /Since \d|To come/.test(inner.description ?? '') ? [] : [key]),
        ...visit(inner),
      ]),
      ...[node.items, ...(node.anyOf ?? [])].flatMap((inner) => (inner ? visit(inner) : [])),
    ];
    expect(visit(SCHEMAS.report)).toEqual([]);
  });

  it('are what the command writes', async () => {
    for (const of of ['report', 'comparison'] as const) {
      const terminal = recordingTerminal();
      expect(await run(['schema', of], terminal)).toBe(0);
      expect(JSON.parse(terminal.said.out)).toEqual(SCHEMAS[of]);
    }
    expect(await run(['schema', 'reprot'], recordingTerminal())).toBe(2);
  });
});

describe('accuracies', () => {
  it('are numbers beside their text', () => {
    expect(sampleReport().session.columns.slice(0, 3)).toMatchObject([
      { role: 'time', accuracy: null, accuracy_stated: null },
      { accuracy: '0.1 % + 0.01 V', accuracy_stated: { relative: 0.001, absolute: 0.01, unit: 'V' } },
      { accuracy: '1 % + 0.005 A', accuracy_stated: { relative: 0.01, absolute: 0.005, unit: 'A' } },
    ]);
  });

  it('of a report that has the text alone are read from it, once', () => {
    const report = asRead(sampleReport());
    for (const column of report.session.columns) delete column.accuracy_stated;
    expect(asStored(ReportContract.parse(report)).session.columns).toEqual(sampleReport().session.columns);
  });
});
