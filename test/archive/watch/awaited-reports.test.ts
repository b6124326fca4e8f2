import { mkdirSync, mkdtempSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { createAwaitedReports } from '../../../src/archive/watch/awaited-reports.ts';

let out = '';
beforeEach(() => {
  out = mkdtempSync(join(tmpdir(), 'standstill-awaited-'));
});
afterEach(() => rmSync(out, { recursive: true, force: true }));

function write(id: string, text: string, second: number): void {
  const path = join(out, 'sessions', id, 'report.json');
  mkdirSync(join(out, 'sessions', id), { recursive: true });
  writeFileSync(path, text);
  utimesSync(path, second, second);
}

const LEANING = { folder: 'drop/leaning', baselineId: 'healthy' };

describe('sessions that wait for a report', () => {
  it('come once, when it is there', () => {
    const awaited = createAwaitedReports(out);
    awaited.await(LEANING);
    expect(awaited.come()).toEqual([]);
    write('another', '{}', 1);
    expect(awaited.come()).toEqual([]);
    write('healthy', '{}', 1);
    expect(awaited.come()).toMatchObject([LEANING]);
    expect(awaited.come()).toEqual([]);
  });

  it('do not come for the report that they were refused by, nor while it is away, but for another', () => {
    write('healthy', '{}', 1);
    const awaited = createAwaitedReports(out);
    awaited.await(LEANING);
    expect(awaited.come()).toEqual([]);
    rmSync(join(out, 'sessions'), { recursive: true });
    expect(awaited.come()).toEqual([]);
    write('healthy', '{}', 1);
    expect(awaited.come()).toEqual([]);
    write('healthy', '{}', 2);
    expect(awaited.come()).toMatchObject([LEANING]);
  });

  it('do not come once they are forgotten', () => {
    const awaited = createAwaitedReports(out);
    awaited.await(LEANING);
    awaited.forget(LEANING.folder);
    write('healthy', '{}', 1);
    expect(awaited.come()).toEqual([]);
  });
});
