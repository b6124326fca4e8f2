/** An archive outlives a version: `stored-1/report.json` was written by version 0.1.0 and is never renewed. */
import { copyFileSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { compareReports } from '../../src/archive/comparison/comparison.ts';
import { writeArchiveIndex } from '../../src/archive/index-page.ts';
import { readStored, Stored } from '../../src/archive/stored.ts';
import { writeTables } from '../../src/archive/tables.ts';
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
    expect(Stored.safeParse(value).success).toBe(true);
  });
});
