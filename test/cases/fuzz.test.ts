/**
 * Damaged manifests and logs, from the folder to the report: each ends in a sound report or in a `UserError`, and soon.
 * STANDSTILL_FUZZ=20000 makes a long run of it; a failure names the seed that repeats it (STANDSTILL_FUZZ_SEED).
 */

import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { UserError } from '../../src/base/problem.ts';
import { runChecks } from '../../src/checks/run.ts';
import type { TimeStyle } from '../../src/demo/log-text.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { loadContent } from '../../src/node/content.ts';
import { makeReport, readLogs } from '../../src/node/make-report.ts';
import { buildReport } from '../../src/report/build-report.ts';
import { disk } from '../demo/disk.ts';
import { MUTATIONS, type Random, random } from '../log/mutations.ts';
import { expectSound } from './invariants.ts';
import { smallSession } from './small-sessions.ts';

const CASES = Number(process.env.STANDSTILL_FUZZ ?? 300);
const SEED = Number(process.env.STANDSTILL_FUZZ_SEED ?? 1);
/** Seeds that once found something: a crank beyond the log's end, a wake in part without current, a log of one row. */
const FOUND = [15, 1204, 10_530, 202_820];
/** Words take most of the time, and charts and page more: one in so many is worded, and one in so many is drawn. */
const WORDED = 10;
const DRAWN = 100;
/** No case takes anywhere near this, also where the machine has other work; one that hangs does. */
const LONGEST_MS = 20_000;

/** Manifests that are in order, for another vehicle, logger or log than this one. */
const OTHER_WORDS: readonly (readonly [RegExp, string])[] = [
  [/powertrain: combustion/, 'powertrain: electric'],
  [/powertrain: combustion/, 'powertrain: hybrid'],
  [/system_voltage: 12 V/, 'system_voltage: 24 V'],
  [/system_voltage: 12 V/, 'system_voltage: 6 V'],
  [/chemistry: flooded/, 'chemistry: lfp'],
  [/timezone: UTC/, 'timezone: Pacific/Apia'],
  [/positive: charging/, 'positive: discharging'],
  [/unit: A\b/, 'unit: mA'],
  [/unit: V\b/g, 'unit: mV'],
  [/unit: °C/, 'unit: K'],
  [/name: battery_A/, 'name: in1_v'],
  [/range: 1000 A/, 'range: 20 A'],
  [/^ {4}temperature:(?:\n {6}.*)+\n/m, ''],
  [/^ {4}current:(?:\n {6}.*)+\n/m, ''],
  [/format: .*/, 'format: epoch-s'],
  [/^log:$/m, 'limits: {parked_draw: 1 mA, sleep_within: 1 s, charging_voltage_max: 1 V}\nlog:'],
  [/^log:$/m, 'notes: [{at: 1970-01-01T00:00:00, text: "<script>|*_`{{x}}"}]\nlog:'],
];

/** The same twelve minutes with their times in every form. */
const FORMS: readonly TimeStyle[] = [
  'iso-local',
  'iso',
  'epoch-s',
  'epoch-ms',
  'elapsed-s',
  'DD.MM.YYYY HH:mm:ss,SSS',
  'DD/MM/YYYY HH:mm:ss.SSS',
  'MM/DD/YYYY HH:mm:ss.SSS',
];
let folder = '';
let written: { readonly manifest: string; readonly log: Buffer }[] = [];
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'standstill-fuzz-'));
  written = [];
  for (const [k, time] of FORMS.entries()) {
    const session = smallSession('twelve minutes');
    const path = join(folder, `form-${k}`);
    await writeSession(path, { ...session, style: { ...session.style, time } }, disk);
    const manifest = readFileSync(join(path, 'session.yaml'), 'utf8');
    written.push({ manifest, log: readFileSync(join(path, 'log', 'log.csv')) });
  }
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function damaged(bytes: Buffer, times: number, pick: Random): Buffer {
  let changed: Buffer = Buffer.from(bytes);
  for (let k = 0; k < times && changed.length > 1; k++) changed = MUTATIONS[pick(MUTATIONS.length)](changed, pick);
  return changed;
}

/** A time in another unit, or of another age, in one row. */
function strayTime(bytes: Buffer, pick: Random): Buffer {
  const lines = bytes.toString('latin1').split('\n');
  const at = pick(lines.length);
  const digits = '0'.repeat(pick(14));
  lines[at] = lines[at].replace(/^(-?)(\d+)/, (_, sign, number) => `${pick(4) === 0 ? '-' : sign}${number}${digits}`);
  return Buffer.from(lines.join('\n'), 'latin1');
}

/** A session folder for the seed: mostly a log damaged and words changed, now and then a damaged manifest. */
function writeCase(seed: number): string {
  const pick = random(seed);
  const path = join(folder, String(seed));
  const known = FOUND.includes(seed);
  const { manifest, log } = written[known ? 0 : seed % FORMS.length];
  let words = manifest;
  for (let k = pick(3); k > 0; k--) words = words.replace(...OTHER_WORDS[pick(OTHER_WORDS.length)]);
  const text = Buffer.from(words);
  const strayed = (bytes: Buffer) => (!known && pick(3) === 0 ? strayTime(bytes, pick) : bytes);
  mkdirSync(join(path, 'log'), { recursive: true });
  writeFileSync(join(path, 'session.yaml'), pick(5) === 0 ? damaged(text, 1, pick) : text);
  writeFileSync(join(path, 'log', 'log.csv'), strayed(damaged(log, pick(5), pick)));
  return path;
}

async function buildCase(seed: number, path: string): Promise<void> {
  if (seed % DRAWN === 0) {
    const { report, html } = await makeReport(readSession(path, nodeFiles), {
      pageSize: 'a4',
      language: 'en',
      version: 'test',
    });
    expectSound(report);
    expect(html).not.toContain('<script>|');
    return;
  }
  const session = readSession(path, nodeFiles);
  const analysis = await readLogs(session);
  const findings = runChecks(analysis, session);
  if (seed % WORDED === 0)
    expectSound(
      buildReport({ session, analysis, findings, language: 'en', version: 'test', content: loadContent('en') }),
    );
}

it(`${CASES} damaged sessions`, { timeout: 60_000 + CASES * 500 }, async () => {
  let refused = 0;
  for (const seed of [...FOUND, ...Array.from({ length: CASES }, (_, k) => SEED + k)]) {
    const path = writeCase(seed);
    const began = performance.now();
    try {
      await buildCase(seed, path);
    } catch (error) {
      if (!(error instanceof UserError)) throw new Error(`seed ${seed}: ${String(error)}`, { cause: error });
      expect(error.problems.length).toBeGreaterThan(0);
      refused++;
    }
    expect([seed, performance.now() - began < LONGEST_MS]).toEqual([seed, true]);
    rmSync(path, { recursive: true });
  }
  // Most of them still have something to say.
  expect(refused).toBeLessThan(0.6 * CASES);
});
