/** A program that has said all it had to say ends by itself: no thread that waits for work holds it. */
import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join, resolve } from 'node:path';
import { text } from 'node:stream/consumers';
import { afterAll, expect, test } from 'vitest';

const PROGRAM = resolve(import.meta.dirname, '../../.build/bin/standstill.js');
const base = mkdtempSync(join(tmpdir(), 'standstill-ends-'));
afterAll(() => rmSync(base, { recursive: true, force: true }));

const MANIFEST = `standstill: 1
session: {id: ends, title: Ends, purpose: baseline, timezone: UTC}
vehicle: {description: van, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded}
log:
  files: [log.csv]
  columns: {time: {name: time}, voltage: {name: v, unit: V}, current: {name: a, unit: A, positive: charging}}
`;
const HEAD = 'time,v,a\n';
const SHORT = `${HEAD}2026-03-03T10:00:00Z,12.6,-0.02\n2026-03-03T10:00:01Z,12.6,-0.02\n`;
/** So long that it is read in a thread of its own. */
const LONG = HEAD + 'no row,x,y\n'.repeat(2.5e6);

test.each([
  { what: 'a manifest with a fault', manifest: MANIFEST.replace('van', 'van, colour: blue'), log: SHORT, code: 1 },
  { what: 'a column that is not there', manifest: MANIFEST.replace('{name: v,', '{name: volts,'), log: SHORT, code: 1 },
  { what: 'a log without rows', manifest: MANIFEST, log: HEAD, code: 1 },
  { what: 'a large log without rows', manifest: MANIFEST, log: LONG, code: 1 },
  { what: 'a log in order', manifest: MANIFEST, log: SHORT, code: 0 },
])('$what: the build says so and ends', { timeout: 120_000 }, async ({ what, manifest, log, code }) => {
  const session = join(base, what.replaceAll(' ', '-'));
  mkdirSync(session);
  writeFileSync(join(session, 'session.yaml'), manifest);
  writeFileSync(join(session, 'log.csv'), log);
  const child = spawn(process.execPath, [PROGRAM, 'build', session, '--out', join(session, 'out'), '--no-pdf'], {
    stdio: ['ignore', 'ignore', 'pipe'],
  });
  // Long after any of these is done.
  const watchdog = setTimeout(() => child.kill('SIGKILL'), 100_000);
  const [told, [ended, signal]] = await Promise.all([text(child.stderr), once(child, 'close')]);
  clearTimeout(watchdog);
  expect({ ended, signal }, told).toEqual({ ended: code, signal: null });
});
