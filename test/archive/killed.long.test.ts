/**
 * A writer that is killed. A child does nothing but replace one report over and over, as a build does, and is killed at
 * random moments, so that nearly every kill falls into a write. `STANDSTILL_KILLS=50` kills more often.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { tidy } from '../../src/archive/tidy.ts';
import { withLock } from '../../src/base/disk/lock.ts';
import { makeRandom } from '../../src/demo/random.ts';
import { sampleReport } from '../report/sample.ts';

const KILLS = Number(process.env.STANDSTILL_KILLS ?? 8);
/** Compiled by `npm test` before the tests run. */
const built = (path: string) => pathToFileURL(join(import.meta.dirname, '../../.build', path)).href;

const out = mkdtempSync(join(tmpdir(), 'standstill-killed-'));
afterAll(() => rmSync(out, { recursive: true, force: true }));

const WRITER = `
  import { readFileSync } from 'node:fs';
  import { withLock } from ${JSON.stringify(built('base/disk/lock.js'))};
  import { noteMadeFrom } from ${JSON.stringify(built('archive/made-from.js'))};
  import { tidy } from ${JSON.stringify(built('archive/tidy.js'))};
  import { writeReport } from ${JSON.stringify(built('report/write-report.js'))};
  const out = process.argv[1];
  const report = JSON.parse(readFileSync(process.argv[2], 'utf8'));
  await withLock(out, () => tidy(out));
  for (let n = 0; ; n++) {
    const html = '<html>' + n + '</html>';
    const charts = [{ name: 'a', spec: { n } }, { name: 'b', spec: { n } }];
    await withLock(out, async () => {
      const folder = await writeReport(out, { report: { ...report, language: String(n) }, html, charts });
      await noteMadeFrom(folder, String(n));
    });
    if (n === 0) process.stdout.write('writing');
  }`;

describe('a writer that is killed at any moment', () => {
  it(`leaves the earlier report or the new one, whole, ${KILLS} times`, {
    timeout: 20_000 + KILLS * 10_000,
  }, async () => {
    const source = join(out, 'source.json');
    writeFileSync(source, JSON.stringify(sampleReport()));
    const random = makeRandom(1);
    let left = 0;
    for (let kill = 0; kill < KILLS; kill++) {
      const child = spawn(process.execPath, ['--input-type=module', '-e', WRITER, out, source]);
      const gone = new Promise((resolve) => child.on('exit', resolve));
      let complaint = '';
      child.stderr.on('data', (text) => {
        complaint += text;
      });
      await Promise.race([new Promise((resolve) => child.stdout.once('data', resolve)), gone]);
      await sleep(80 * random.uniform());
      child.kill('SIGKILL');
      await gone;
      expect(complaint).toBe('');
      expectWhole();
      left += readdirSync(join(out, 'sessions')).filter((name) => name.startsWith('.')).length;
    }
    // Otherwise no kill fell into a write, and nothing was tested.
    expect(left).toBeGreaterThan(0);
    await withLock(out, () => tidy(out));
    expect(readdirSync(join(out, 'sessions'))).toEqual([sampleReport().session.id]);
    expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual([]);
  });
});

/** Under its name, or aside for the moment between two renames, from where `tidy` brings it back; never a mixture. */
function expectWhole(): void {
  const { id } = sampleReport().session;
  const folder = [id, `.${id}.old`].map((name) => join(out, 'sessions', name)).find((one) => existsSync(one));
  if (!folder) throw new Error('the report is lost');
  const n = JSON.parse(readFileSync(join(folder, 'report.json'), 'utf8')).language;
  expect(readFileSync(join(folder, 'index.html'), 'utf8')).toBe(`<html>${n}</html>`);
  expect(JSON.parse(readFileSync(join(folder, 'charts', 'b.vl.json'), 'utf8'))).toEqual({ n: Number(n) });
}
