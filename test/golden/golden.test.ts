/**
 * Whole sessions through the program, their reports held against those kept in `reports/`. `npm run golden` renews these and prints
 * what moved: read that, and commit it with the change that moved it.
 */
import { existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { runChecks } from '../../src/checks/run.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { loadContent } from '../../src/node/content.ts';
import { readLogs } from '../../src/node/make-report.ts';
import { buildReport } from '../../src/report/build-report.ts';
import { disk } from '../demo/disk.ts';
import { moved } from './moved.ts';
import { goldenSession, SESSIONS } from './sessions.ts';

const RENEW = (import.meta as { env?: { MODE?: string } }).env?.MODE === 'renew';
const KEPT = fileURLToPath(new URL('reports/', import.meta.url));
const SHOWN = 40;

const folder = mkdtempSync(join(tmpdir(), 'standstill-golden-'));
afterAll(() => rmSync(folder, { recursive: true, force: true }));
const content = loadContent('en');

/** The report without its prose, which other tests read. */
async function reportOf(name: string): Promise<unknown> {
  const path = join(folder, name);
  await writeSession(path, goldenSession(name), disk);
  const session = readSession(path, nodeFiles);
  const analysis = await readLogs(session);
  const findings = runChecks(analysis, session);
  const report = buildReport({ session, analysis, findings, language: 'en', version: 'golden', content });
  const { log, findings: told, periods, parked, wakes, wake_patterns, cranks, drives, events, links, totals } = report;
  return JSON.parse(
    JSON.stringify({
      log: { ...log, files: log.files.map(({ rows }) => ({ rows })) },
      periods,
      parked,
      wakes: wakes.slice(0, 6),
      wake_patterns,
      cranks,
      drives,
      events,
      links,
      totals,
      answer: report.summary.answer,
      findings: told.map(
        ({ check, status, title, measured, limit, variant, reason_key, evidence, cautions, follows }) => ({
          check,
          status,
          title,
          measured,
          limit,
          variant,
          reason_key,
          evidence,
          cautions,
          follows,
        }),
      ),
    }),
  );
}

/** A line for each leaf's parent, so that a change is read in a diff, and the file stays short. */
function written(report: unknown): string {
  const lists = Object.entries(report as object).map(([key, value]) => {
    const body = Array.isArray(value)
      ? `[\n${value.map((one) => JSON.stringify(one)).join(',\n')}\n]`
      : JSON.stringify(value);
    return `${JSON.stringify(key)}: ${body}`;
  });
  return `{\n${lists.join(',\n')}\n}\n`;
}

describe.concurrent('kept reports', () => {
  it.each(Object.keys(SESSIONS))('%s', async (name) => {
    const file = join(KEPT, `${name}.json`);
    const report = await reportOf(name);
    const kept = existsSync(file) ? JSON.parse(readFileSync(file, 'utf8')) : undefined;
    const lines = kept === undefined ? ['(new)'] : moved(kept, report);
    if (RENEW) {
      mkdirSync(KEPT, { recursive: true });
      if (lines.length > 0) writeFileSync(file, written(report));
      if (lines.length > 0) console.log([name, ...lines].join('\n  '));
      return;
    }
    expect(lines.slice(0, SHOWN)).toEqual([]);
  });
});

it('every change is told by its path', () => {
  expect(moved({ a: [1, { b: 2 }], c: 'x' }, { a: [1, { b: 3 }], d: null })).toEqual([
    'a.1.b: 2 → 3',
    'c: "x" → nothing',
    'd: nothing → null',
  ]);
  expect(moved({ a: 1.23456 }, { a: 1.23456 * (1 + 1e-6) })).toEqual([]);
});
