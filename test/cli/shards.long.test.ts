/**
 * An archive that four processes build in four parts, each by itself, and that is joined: to the byte the one that is built
 * at once. The scripts are those that README gives for a cluster.
 */
import { execFile, execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');
const CLUSTER = join(ROOT, '.docs', 'cluster');
const work = mkdtempSync(join(tmpdir(), 'standstill-shards-'));
const [sessions, healthy, archive, atOnce] = ['sessions', 'healthy', 'archive', 'at-once'].map((name) =>
  join(work, name),
);
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** Two days parked, hour for hour the same draw with a wake now and then; nine vehicles, two of them one. */
function lay(folder: string, id: string, k: number, more = ''): void {
  mkdirSync(join(folder, id), { recursive: true });
  const rows = Array.from({ length: 5760 }, (_, n) => {
    const at = new Date(Date.UTC(2025, 11, 30) + (k * 86_400 + n * 30) * 1000).toISOString();
    const a = n < 20 ? -4 : n % 720 < 6 ? -2.5 : -0.02 - 0.004 * k - (n % 2) * 0.001;
    return `${at},${(12.6 - n / 60_000).toFixed(3)},${a}`;
  });
  writeFileSync(join(folder, id, 'log.csv'), `time,v,a\n${rows.join('\n')}\n`);
  writeFileSync(
    join(folder, id, 'session.yaml'),
    `standstill: 1
session: {id: ${id}, title: Visit ${k}, purpose: ${more ? 'complaint' : 'baseline'}, timezone: Europe/Dublin}
vehicle: {description: panel van, registration: 17-D-${k % 8}, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded, capacity: 70 Ah}
log:
  files: [log.csv]
  columns:
    time: {name: time, format: iso}
    voltage: {name: v, unit: V, accuracy: 0.1 % + 10 mV}
    current: {name: a, unit: A, positive: charging, accuracy: 1 % + 1 mA}
${more}`,
  );
}

const env = {
  ...process.env,
  SESSIONS: sessions,
  HEALTHY: healthy,
  ARCHIVE: archive,
  OPTIONS: '--no-pdf',
  STANDSTILL: `${process.execPath} ${join(ROOT, '.build', 'bin', 'standstill.js')}`,
};
/** But for what is kept for the next build, which goes by the files' times. */
const tree = (folder: string) =>
  readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((one) => one.isFile())
    .map((one) => join(one.parentPath, one.name))
    .filter((path) => !path.includes('.summaries'))
    .sort();

describe.skipIf(process.platform === 'win32')('an archive built in four parts and joined', () => {
  beforeAll(async () => {
    lay(healthy, 'sound-van', 0);
    for (let k = 1; k <= 9; k++) lay(sessions, `visit-${k}`, k, k % 2 ? 'limits: {from: sound-van}\n' : 'limits: {}\n');
    mkdirSync(archive);
    mkdirSync(atOnce);
    for (const out of [archive, atOnce]) writeFileSync(join(out, 'shop.yaml'), 'name: Harbour Lane Garage\n');
    const shard = (k: number) =>
      promisify(execFile)('bash', [join(CLUSTER, 'build-shard.sh'), String(k), '4'], { env });
    await Promise.all([0, 1, 2, 3].map(shard));
    execFileSync('bash', [join(CLUSTER, 'join.sh')], { env });
    const folders = [...readdirSync(sessions).map((id) => join(sessions, id)), join(healthy, 'sound-van')];
    const [node, program] = env.STANDSTILL.split(' ');
    execFileSync(node, [program, 'build', ...folders, '--out', atOnce, '--no-pdf', '--quiet']);
  }, 300_000);

  it('is the archive built at once, to the byte', () => {
    const [joined, whole] = [archive, atOnce].map((out) => tree(out).map((path) => path.slice(out.length)));
    expect(whole.filter((path) => path.endsWith('report.json')).length).toBe(10);
    expect(joined).toEqual(whole);
    for (const path of whole) {
      const same = readFileSync(join(archive, path)).equals(readFileSync(join(atOnce, path)));
      expect(same, path).toBe(true);
    }
  });

  it('had four parts, and limits from the healthy session in each', () => {
    const parts = [0, 1, 2, 3].map((k) => readdirSync(join(`${archive}.shard-${k}`, 'sessions')));
    expect(parts.map((ids) => ids.length)).toEqual([4, 3, 3, 3]);
    const report = JSON.parse(readFileSync(join(archive, 'sessions', 'visit-3', 'report.json'), 'utf8'));
    expect(report.session.limits_from.session).toBe('sound-van');
  });

  it('leaves nothing to make anew', () => {
    const before = tree(archive).map((path) => readFileSync(path).toString('base64'));
    const [node, program] = env.STANDSTILL.split(' ');
    const folders = readdirSync(sessions).map((id) => join(sessions, id));
    execFileSync(node, [program, 'build', ...folders, '--out', archive, '--no-pdf', '--quiet']);
    expect(tree(archive).map((path) => readFileSync(path).toString('base64'))).toEqual(before);
  }, 120_000);
});
