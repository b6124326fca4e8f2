/** Limits that a healthy session gives, worked out by hand beside each. */

import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { withBaseline } from '../../src/archive/baseline.ts';
import { archiveIn } from '../../src/archive/stored.ts';
import type { StoredReport } from '../../src/archive/stored-report.ts';
import type { Session } from '../../src/manifest/session.ts';
import { loadContent } from '../../src/node/content.ts';
import { session as sampleSession } from '../report/sample.ts';
import { changed, stored, withFinding } from './reports.ts';

let out = '';
beforeEach(() => {
  out = mkdtempSync(join(tmpdir(), 'standstill-baseline-'));
});
afterEach(() => rmSync(out, { recursive: true, force: true }));

const s = (value: number, uncertainty = 50) => ({ value, unit: 's', uncertainty });
const A = (value: number, uncertainty: number | null = 0.002) => ({ value, unit: 'A', uncertainty });

/** Draws 20 mA asleep and never wakes, sleeps after a quarter of an hour, cranks at 10.8 V where 9.4 V would do. */
function healthy(drawA = 0.02, asleepS = 900): StoredReport {
  let report = changed(stored('healthy', '2026-03-01T00:00:00.000Z'), (own) => {
    own.wakes = [];
    own.wake_patterns = [];
    own.totals.asleep_s = 86_400;
    own.parked = own.parked.slice(0, 1).map((stand) => ({ ...stand, sleep_draw_a: drawA }));
    own.session.columns = own.session.columns.map((column) => ({ ...column, accuracy: null }));
    own.session.limits = [];
  });
  report = withFinding(report, 'parked-draw', 'clear', A(drawA));
  report = withFinding(report, 'wake-ups', 'clear', A(0.001));
  report = limited(withFinding(report, 'sleep-time', 'clear', s(asleepS)), 'sleep-time', 3600);
  report = limited(withFinding(report, 'held-awake', 'clear', null), 'held-awake', 3600);
  report = withFinding(report, 'crank-voltage', 'clear', { value: 10.8, unit: 'V', uncertainty: 0.05 });
  return limited(report, 'crank-voltage', 9.4);
}

function limited(report: StoredReport, check: string, value: number): StoredReport {
  return changed(report, (own) => {
    const finding = own.findings.find((one) => one.check === check);
    if (finding?.limit) finding.limit.value = value;
  });
}

async function taken(baseline: StoredReport, more: Partial<Session> = {}): Promise<Session> {
  const folder = join(out, 'sessions', baseline.session.id);
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'report.json'), JSON.stringify(baseline));
  const limitsFrom = { id: baseline.session.id, at: { line: 40, column: 9 } };
  return withBaseline({ ...sampleSession, limits: {}, limitsFrom, ...more }, archiveIn(out), () => loadContent('en'));
}

describe('a healthy session', () => {
  it('gives value, uncertainty and margin', async () => {
    const { limits, limitsFrom } = await taken(healthy());
    // 20 mA ± 2 mA on the mean too (1 % gain of it adds nothing to speak of), and the least margin of 10 mA.
    expect(limits.parkedDraw?.value).toBeCloseTo(0.02 + 0.002 + 0.01, 4);
    // 900 s ± 50 s, and half of 900 s.
    expect(limits.sleepWithin?.value).toBe(900 + 50 + 450);
    // 10.8 V − 0.05 V − 0.5 V is 0.85 V above the table; the table's warmest is 9.6 V.
    expect(limits.crankingVoltage).toMatchObject({ value: 10.45, fallsWithCold: true });
    expect(limitsFrom?.left).toEqual({});
    expect(Object.keys(limits).sort()).toEqual(['crankingVoltage', 'parkedDraw', 'sleepWithin']);
  });

  it('gives the widest of several, and all of them must be healthy', async () => {
    const other = changed(healthy(0.024, 1100), (own) => {
      own.session.id = 'healthy-too';
    });
    await taken(other);
    const at = { line: 40, column: 9 };
    const { limits } = await taken(healthy(), { limitsFrom: { id: 'healthy', more: ['healthy-too'], at } });
    expect(limits.parkedDraw?.value).toBeCloseTo(0.024 + 0.002 + 0.012, 4);
    expect(limits.parkedDraw?.source).toMatch(/healthy-too, the widest of 2 healthy sessions: 24/);
    expect(limits.sleepWithin?.value).toBe(1100 + 50 + 550);
    await expect(taken(healthy(), { limitsFrom: { id: 'healthy', more: ['nobody'], at } })).rejects.toThrow(/nobody/);
  });

  it('is named with its value in the source, but not in a redacted report', async () => {
    const source = async (more = {}) => (await taken(healthy(), more)).limits.parkedDraw?.source;
    expect(await source()).toMatch(/^Session healthy: 20\smA\s±\s2\smA .*common practice, no source/);
    const hidden = await source({ redacted: true });
    expect(hidden).toMatch(/^A healthy session: 20/);
    expect(hidden).not.toContain('Session healthy');
  });

  it('leaves a limit that the session names as it is', async () => {
    const own = { parkedDraw: { value: 0.08, source: 'Service information' } };
    expect((await taken(healthy(), { limits: own })).limits).toMatchObject(own);
  });

  it('gives the margin alone where it draws next to nothing', async () => {
    const { limits } = await taken(healthy(-0.0005));
    expect(limits.parkedDraw?.value).toBeCloseTo(0.002 + 0.01, 4);
  });

  it('never widens the limit that it was found sound by', async () => {
    const { limits } = await taken(healthy(0.044, 3000));
    expect(limits.parkedDraw).toMatchObject({
      value: 0.05,
      source: expect.stringContaining('found sound by this limit'),
    });
    expect(limits.sleepWithin).toMatchObject({ value: 3600, source: expect.stringContaining('found sound by') });
  });

  it('counts its wakes and its longest stretch awake, so that it passes by its own limits', async () => {
    const wakeful = changed(withFinding(healthy(), 'held-awake', 'clear', s(1500)), (own) => {
      const wake = { start: own.log.start, seconds: 60, peak_a: 1.44, mean_a: 1.44, charge_ah: 0.024, channels: [] };
      own.wakes = [wake];
      own.totals.asleep_s = 86_400 - 60;
    });
    const { limits } = await taken(limited(wakeful, 'held-awake', 3600));
    // 0.024 Ah in a day are 1 mA beside the 20 mA; one wake may as well be two or none, ± 2 mA. So 21 mA ± 2.8 mA.
    expect(limits.parkedDraw?.value).toBeCloseTo(0.021 + 0.0028 + 0.0105, 4);
    expect(limits.sleepWithin?.value).toBe(1500 + 50 + 750);
  });
});

describe('a value that is not sound', () => {
  it.each(['watch', 'undecided'])('is left, with the reason: %s', async (status) => {
    const { limits, limitsFrom } = await taken(withFinding(healthy(), 'held-awake', status, s(1500)));
    expect(Object.keys(limits).sort()).toEqual(['crankingVoltage', 'parkedDraw']);
    expect(limitsFrom?.left?.sleepWithin).toBe('session healthy gives none, since it is not clear itself: held-awake');
  });

  it('is left where its uncertainty is not known', async () => {
    const { limitsFrom } = await taken(withFinding(healthy(), 'parked-draw', 'clear', A(0.02, null)));
    expect(limitsFrom?.left?.parkedDraw).toMatch(/^session healthy gives none/);
  });

  it('is left where the crank was hardly above the table, or judged by a figure of its own', async () => {
    const hardly = limited(healthy(), 'crank-voltage', 10.3);
    expect((await taken(hardly)).limitsFrom?.left?.crankingVoltage).toMatch(/gives none/);
    const own = changed(healthy(), (report) => {
      report.session.limits = [{ key: 'crankingVoltage', value: 9.6, unit: 'V', source: 'shop' }];
    });
    expect((await taken(own)).limitsFrom?.left?.crankingVoltage).toMatch(/gives none/);
  });

  it('of a check that an older report lacks is left too', async () => {
    const older = changed(healthy(), (own) => {
      own.findings = own.findings.filter(({ check }) => check !== 'crank-voltage');
    });
    expect((await taken(older)).limitsFrom?.left?.crankingVoltage).toMatch(/gives none/);
  });
});

describe('a session that is no baseline is refused, with its place', () => {
  it.each<[string, () => StoredReport, RegExp]>([
    [
      'with a fault',
      () => withFinding(healthy(), 'resting-charge', 'fault', null),
      /no healthy session: resting-charge/,
    ],
    [
      'of another kind',
      () => changed(healthy(), (own) => Object.assign(own.session.vehicle, { system_voltage_v: 24 })),
      /another kind of vehicle \(combustion, 24 V\)/,
    ],
    [
      'that leans on another',
      () => changed(healthy(), (own) => Object.assign(own.session, { limits_from: { session: 'first' } })),
      /takes its own limits from another session/,
    ],
  ])('%s', async (_, baseline, message) => {
    await expect(taken(baseline())).rejects.toThrow(message);
    await expect(taken(baseline())).rejects.toThrow(/^session\.yaml:40:9 limits\.from: /);
  });

  it('that is not there, or cannot be read', async () => {
    const limitsFrom = { id: 'gone', at: { line: 40, column: 9 } };
    const ask = () => withBaseline({ ...sampleSession, limitsFrom }, archiveIn(out), () => loadContent('en'));
    await expect(ask()).rejects.toThrow(/There is no session "gone" in .*build that one first/);
    mkdirSync(join(out, 'sessions', 'gone'), { recursive: true });
    writeFileSync(join(out, 'sessions', 'gone', 'report.json'), '{');
    await expect(ask()).rejects.toThrow(/"gone" cannot be used: report\.json is damaged/);
  });
});
