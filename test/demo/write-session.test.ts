import { mkdtemp, readdir, readFile, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync } from 'node:zlib';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { GERMAN_STYLE, type LogStyle, PLAIN_STYLE } from '../../src/demo/log-text.ts';
import { demoSessions, writeDemo } from '../../src/demo/scenarios.ts';
import { type DemoSession, manifestText, writeSession } from '../../src/demo/write-session.ts';
import { disk } from './disk.ts';
import { logOf, SMALL } from './small-scenario.ts';

let folder = '';
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'standstill-demo-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

function sessionOf(style: LogStyle, start = SMALL.start): DemoSession {
  return {
    scenario: { ...SMALL, start, seconds: 2 * 3600, drives: [] },
    words: { session: { id: 'small', timezone: style.timezone }, vehicle: {}, battery: {} },
    style,
  };
}

async function writtenLines(session: DemoSession, name: string): Promise<string[]> {
  const path = join(folder, name);
  await writeSession(path, session, disk);
  const files = (await readdir(join(path, 'log'))).sort();
  const texts = await Promise.all(files.map((file) => readFile(join(path, 'log', file), 'utf8')));
  return texts.flatMap((text) => text.split(session.style.lineEnd).slice(0, -1));
}

describe('written session', () => {
  it('holds the samples of the simulation', async () => {
    const session = sessionOf({ ...PLAIN_STYLE, split: 'one', digits: { v: 6, i: 6, temp: 1 } });
    const [header, ...rows] = await writtenLines(session, 'plain');
    const log = logOf(session.scenario);
    expect(header).toBe('time,battery_V,battery_A,temp_c');
    expect(rows).toHaveLength(log.t.length);
    rows.forEach((row, k) => {
      const [time, v, i] = row.split(',');
      if (Date.parse(`${time}Z`) !== log.t[k] * 1000) throw new Error(`row ${k}: ${time}`);
      if (Math.abs(Number(v) - log.v[k]) > 1e-6 || Math.abs(Number(i) - log.i[k]) > 1e-6)
        throw new Error(`row ${k}: ${row}`);
    });
  });

  it('writes as an export program set to German does', async () => {
    const [header, first] = await writtenLines(sessionOf(GERMAN_STYLE), 'german');
    expect(header).toBe('time;battery_V;battery_A;temp_c');
    // 06:00 UTC in winter is 07:00 in Berlin.
    expect(first).toMatch(/^03\.03\.2026 07:00:00,000;12,\d{3};-0,025;\d+,\d$/);
  });

  it('repeats an hour when the clocks go back, as loggers on local time do', async () => {
    const session = sessionOf(GERMAN_STYLE, Date.UTC(2025, 9, 26, 0) / 1000);
    const lines = await writtenLines(session, 'clock-change');
    expect(lines.filter((line) => line.startsWith('26.10.2025 02:30:00,000'))).toHaveLength(2);
  });

  it('writes milliamperes, other signs, offsets and lines before the header', async () => {
    const style: LogStyle = {
      ...PLAIN_STYLE,
      time: 'iso',
      timezone: 'Asia/Kolkata',
      currentUnit: 'mA',
      voltageUnit: 'mV',
      positive: 'discharging',
      preamble: ['Logger 4', 'Serial 0001'],
      digits: { v: 0, i: 1, temp: 0 },
    };
    const session = sessionOf(style);
    const [one, two, header, first] = await writtenLines(session, 'odd');
    expect([one, two]).toEqual(style.preamble);
    expect(header).toBe('time,battery_mV,battery_mA,temp_c');
    expect(first).toMatch(/^2026-03-03T11:30:00\.000\+05:30,12\d{3},25\.0,\d+$/);
    expect(parse(manifestText(session)).log.skip_rows).toBe(2);
  });

  it('starts a file each local day, and packs it when told to', async () => {
    const style: LogStyle = { ...PLAIN_STYLE, timezone: 'America/New_York', gzip: true };
    // Midnight in New York is 05:00 UTC in winter.
    const session = sessionOf(style, Date.UTC(2026, 0, 10, 4) / 1000);
    const path = join(folder, 'daily');
    await writeSession(path, session, disk);
    expect((await readdir(join(path, 'log'))).sort()).toEqual(['2026-01-09.csv.gz', '2026-01-10.csv.gz']);
    const second = gunzipSync(await readFile(join(path, 'log', '2026-01-10.csv.gz'))).toString();
    expect(second.split('\n')[1]).toMatch(/^2026-01-10T00:00:00\.000,/);
  });
});

describe('demo', () => {
  it('writes three sessions whose manifests say what was simulated', async () => {
    const folders = await writeDemo(join(folder, 'demo'), disk);
    const sessions = demoSessions();
    expect(folders).toEqual(sessions.map((s) => join(folder, 'demo', s.words.session.id)));
    let bytes = 0;
    for (const [k, path] of folders.entries()) {
      const manifest = parse(await readFile(join(path, 'session.yaml'), 'utf8'));
      expect(manifest.session.id).toBe(sessions[k].words.session.id);
      expect(manifest.vehicle.powertrain).toBe(sessions[k].scenario.powertrain);
      for (const file of await readdir(join(path, 'log'))) bytes += (await stat(join(path, 'log', file))).size;
    }
    expect(bytes).toBeLessThan(60e6);
  });
});
