import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { mkdir, rename } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { csvTables } from '../../src/report/csv-tables.ts';
import { writeReport } from '../../src/report/write-report.ts';
import { sampleReport } from './sample.ts';

const report = sampleReport();
let out = '';
beforeEach(() => {
  out = mkdtempSync(join(tmpdir(), 'standstill-write-'));
});
afterEach(() => rmSync(out, { recursive: true, force: true }));
const sessions = () => readdirSync(join(out, 'sessions')).sort();
const html = (id = report.session.id) => readFileSync(join(out, 'sessions', id, 'index.html'), 'utf8');

describe('writing a report', () => {
  it('lays every file of the contract', async () => {
    const folder = await writeReport(out, {
      report,
      html: 'page',
      charts: [{ name: 'parked-draw', spec: { a: 1 } }],
      pdfs: new Map([['report.pdf', Buffer.from('%PDF')]]),
    });
    const files = readdirSync(folder, { recursive: true }).map((name) => String(name).replaceAll('\\', '/'));
    expect(files.sort()).toEqual([
      'charts',
      'charts/parked-draw.vl.json',
      'index.html',
      'report.json',
      'report.pdf',
      'tables',
      'tables/cranks.csv',
      'tables/drives.csv',
      'tables/events.csv',
      'tables/parked.csv',
      'tables/portrait.csv',
      'tables/wakes.csv',
    ]);
    expect(JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8'))).toEqual(report);
    expect(sessions()).toEqual([report.session.id]);
    expect(statSync(folder).mode & 0o777).toBe(statSync(join(out, 'sessions')).mode & 0o777);
  });

  it('replaces an earlier one whole: no file of it stays', async () => {
    await writeReport(out, {
      report,
      html: 'first',
      charts: [{ name: 'old', spec: {} }],
      pdfs: new Map([['report.pdf', Buffer.from('%PDF')]]),
    });
    await writeReport(out, { report, html: 'second', charts: [] });
    expect(html()).toBe('second');
    expect(existsSync(join(out, 'sessions', report.session.id, 'report.pdf'))).toBe(false);
    expect(readdirSync(join(out, 'sessions', report.session.id, 'charts'))).toEqual([]);
    expect(sessions()).toEqual([report.session.id]);
  });

  it('that fails leaves the earlier report whole, and nothing beside it', async () => {
    await writeReport(out, { report, html: 'first', charts: [] });
    const broken = [{ name: 'no file is called \0', spec: {} }];
    await expect(writeReport(out, { report, html: 'second', charts: broken })).rejects.toThrow();
    expect(html()).toBe('first');
    expect(sessions()).toEqual([report.session.id]);
  });

  it('puts right what was stopped between the two renames', async () => {
    await writeReport(out, { report, html: 'first', charts: [] });
    const earlier = join(out, 'sessions', `.${report.session.id}.old`);
    await rename(join(out, 'sessions', report.session.id), earlier);
    await expect(
      writeReport(out, { report, html: 'second', charts: [{ name: 'no file is called \0', spec: {} }] }),
    ).rejects.toThrow();
    expect(html()).toBe('first');
    await mkdir(earlier);
    writeFileSync(join(earlier, 'rest'), '');
    await writeReport(out, { report, html: 'third', charts: [] });
    expect(html()).toBe('third');
    expect(sessions()).toEqual([report.session.id]);
  });

  it.each(['../up', 'a/b', 'NUL', 'com1', '', 'a.b'])('refuses the id "%s"', async (id) => {
    const named = { ...report, session: { ...report.session, id } };
    await expect(writeReport(out, { report: named, html: '', charts: [] })).rejects.toThrow(
      /cannot be a folder’s name|cannot be a folder's name/,
    );
    expect(readdirSync(out)).toEqual([]);
  });
});

describe('tables', () => {
  const tables = csvTables(report);
  it('have a header, one line a row, and CRLF', () => {
    expect(tables.get('cranks.csv')).toBe(
      'at,seconds,volts_before,volts_min,volts_cranking,amps_peak,resistance_ohm,temperature_c\r\n' +
        '2026-03-03T17:40:02.000Z,0.84,12.5,9.1,10.2,512,0.0051,\r\n',
    );
    expect(csvTables({ ...report, drives: [] }).get('drives.csv')).toBe(
      'start,end,volts_median,charge_in_ah,charge_out_ah\r\n',
    );
  });
  it.each([
    [['Radio'], 'Radio'],
    [['A, "B"'], '"A, ""B"""'],
    [['A', 'B'], 'A; B'],
    [['=1+1'], "'=1+1"],
    [['+x'], "'+x"],
    [['-x'], "'-x"],
    [['@x'], "'@x"],
    [['\t=x'], "'\t=x"],
    [[' =HYPERLINK("a")'], `"' =HYPERLINK(""a"")"`],
    [['a\r\nb'], '"a\r\nb"'],
  ])('write the text %j as %s', (channels, field) => {
    const text = csvTables({ ...report, wakes: [{ ...report.wakes[0], channels }] }).get('wakes.csv');
    expect(text?.split('0.3,')[1]).toBe(`${field}\r\n`);
  });
  it('leave the minus of a number alone', () => {
    const parked = [{ ...report.parked[0], mean_draw_a: -0.001 }];
    expect(csvTables({ ...report, parked }).get('parked.csv')).toContain(',-0.001,');
  });
});
