/** An archive outlives a version: `stored-1/report.json` was written by version 0.1.0 and is never renewed. */
import { execFileSync } from 'node:child_process';
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { compareReports } from '../../src/archive/comparison/comparison.ts';
import { writeArchiveIndex } from '../../src/archive/index-page.ts';
import { readArchive, readStored } from '../../src/archive/stored.ts';
import { writeTables } from '../../src/archive/tables.ts';
import { ReportContract } from '../../src/report/contract/report.ts';
import { sampleReport } from '../report/sample.ts';
import { changed } from './reports.ts';

const folder = join(import.meta.dirname, 'stored-1');
const out = mkdtempSync(join(tmpdir(), 'standstill-stored-'));
afterAll(() => rmSync(out, { recursive: true, force: true }));

describe('a report of the first version', () => {
  it('is read, listed, compared and written into tables', async () => {
    const read = await readStored(folder, 'stored-1');
    if (!('report' in read)) throw new Error(read.message);
    const { report } = read;
    expect(report.session.id).toBe('harbour-van-march');
    const later = changed(report, (own) => {
      own.session.id = 'later';
      own.log.start = '2026-05-01T00:00:00.000Z';
    });
    expect(compareReports(report, later).before).toEqual(report);
    mkdirSync(join(out, 'sessions', report.session.id), { recursive: true });
    copyFileSync(join(folder, 'report.json'), join(out, 'sessions', report.session.id, 'report.json'));
    expect(await writeArchiveIndex(out)).toEqual({ sessions: 1, damaged: [] });
    expect((await writeTables(out)).archive.sessions).toHaveLength(1);
  });

  it('may hold what a later version adds, and is not asked for what it could not have', () => {
    const value = JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8'));
    value.session.vehicle.colour = 'blue';
    for (const finding of value.findings) delete finding.reason_key;
    expect(ReportContract.safeParse(value).success).toBe(true);
  });
});

describe('an entry that cannot be used', () => {
  const own = join(out, 'damaged');
  const lay = (folder: string, text: string) => {
    mkdirSync(join(own, 'sessions', folder), { recursive: true });
    writeFileSync(join(own, 'sessions', folder, 'report.json'), text);
  };
  const report = (id: string, change: (report: ReturnType<typeof sampleReport>) => object = () => ({})) => {
    const whole = sampleReport({ session: { id } });
    return JSON.stringify({ ...whole, ...change(whole) });
  };

  it('is named with folder and key, and stops no other', async () => {
    lay('whole', report('whole'));
    lay(
      'nowhere',
      report('nowhere', ({ session }) => ({ session: { ...session, timezone: 'Nowhere/Land' } })),
    );
    lay('moved', report('other'));
    lay('outside', report('x/../../../elsewhere'));
    lay('device', report('NUL'));
    lay(
      'no-day',
      report('no-day', ({ log }) => ({ log: { ...log, start: '2026-02-30T00:00:00.000Z' } })),
    );
    lay(
      'no-list',
      report('no-list', () => ({ drives: {} })),
    );
    lay('not-object', '[]');
    if (process.platform !== 'win32') {
      mkdirSync(join(own, 'sessions', 'pipe'));
      execFileSync('mkfifo', [join(own, 'sessions', 'pipe', 'report.json')]);
    }
    const { sessions, damaged } = await readArchive(own);
    expect(sessions.map(({ folder }) => folder)).toEqual(['whole']);
    const said = Object.fromEntries(damaged.map(({ folder, message }) => [folder, message]));
    expect(said).toMatchObject({
      nowhere: expect.stringMatching(/^report.json, session.timezone: .*"Nowhere\/Land"/),
      moved: expect.stringMatching(/^report.json, session.id: .*"other", .* name of its folder/),
      outside: expect.stringMatching(/^report.json, session.id: .*letters/),
      device: expect.stringMatching(/^report.json, session.id: .*device/),
      'no-day': expect.stringMatching(/^report.json, log.start: /),
      'no-list': expect.stringMatching(/^report.json, drives: /),
      'not-object': expect.stringMatching(/^report.json: /),
      ...(process.platform === 'win32' ? {} : { pipe: expect.stringMatching(/cannot be read/) }),
    });
    expect(await writeArchiveIndex(own)).toEqual({ sessions: 1, damaged });
    const page = readFileSync(join(own, 'index.html'), 'utf8');
    for (const { folder } of damaged) expect(page).toContain(`<b>${folder}</b>`);
  });
});
