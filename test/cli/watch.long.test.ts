import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { watch } from '../../src/cli/watch.ts';
import { stored } from '../archive/reports.ts';
import { browserPath } from '../report/browser-here.ts';
import { recordingTerminal } from './terminal.ts';

let work = '';
beforeEach(() => {
  work = mkdtempSync(join(tmpdir(), 'standstill-watch-'));
});
afterEach(() => rmSync(work, { recursive: true, force: true }));
const options = () => ({ out: join(work, 'out'), pdf: false, page: 'a4', redact: false, jobs: 1 }) as const;

/** A world in which each look is 3 s later; `before` does something ahead of a look, the last one ends the watch. */
function world(looks: number, before: (look: number) => void = () => {}) {
  const stop = new AbortController();
  let look = 0;
  const sleep = async () => {
    look++;
    before(look);
    if (look >= looks) stop.abort();
  };
  return { signal: stop.signal, now: () => look * 3000, sleep };
}

describe('standstill watch', () => {
  it('leaves a session alone while it is copied, then builds it once, and goes on where it cannot', async () => {
    const drop = join(work, 'drop');
    mkdirSync(join(drop, 'broken'), { recursive: true });
    const terminal = recordingTerminal();
    // Grows until the fifth look, is whole 10 s later at the ninth; then nothing new happens.
    const grow = (look: number) => {
      if (look <= 5) writeFileSync(join(drop, 'broken', 'session.yaml'), `standstill: 1\n${'# \n'.repeat(look)}`);
    };
    await watch(drop, options(), terminal, world(8, grow));
    expect(terminal.said.err).not.toContain('could not be reported');
    await watch(drop, options(), terminal, world(12));
    expect(terminal.said.err.match(/1 of 1 sessions could not be reported/g)).toHaveLength(1);
  });

  it('says once that the share is away, and goes on when it is back', async () => {
    const drop = join(work, 'drop');
    mkdirSync(drop);
    const terminal = recordingTerminal();
    const away = (look: number) => {
      if (look === 1) rmSync(drop, { recursive: true });
      if (look === 5) mkdirSync(drop);
    };
    expect(await watch(drop, options(), terminal, world(7, away))).toBe(0);
    expect(terminal.said.err.match(/it is tried again/g)).toHaveLength(1);
  });

  it('refuses what is no folder to watch', async () => {
    const terminal = recordingTerminal();
    await expect(watch(join(work, 'none'), options(), terminal, world(1))).rejects.toThrow(/is no folder/);
    writeFileSync(join(work, 'session.yaml'), '');
    await expect(watch(work, options(), terminal, world(1))).rejects.toThrow(/is a session itself/);
  });
});

describe('a session that takes limits from one that is not there yet', () => {
  const lay = (drop: string, id: string, more = '') => laySession(join(drop, id), id, more);

  it('is refused once, and tried again when that one has been built', async () => {
    const [drop, out] = [join(work, 'drop'), join(work, 'out')];
    lay(drop, 'a-leaning', 'limits: {from: healthy}\n');
    const terminal = recordingTerminal();
    // Whole at the fifth look; the other comes after the tenth.
    await watch(
      drop,
      options(),
      terminal,
      world(30, (look) => {
        if (look === 10) {
          expect(terminal.said.err).toContain('There is no session "healthy"');
          expect(terminal.said.err).not.toContain('tried again');
          lay(drop, 'healthy');
        }
      }),
    );
    const { err } = terminal.said;
    expect(err.match(/There is no session "healthy"/g)).toHaveLength(1);
    expect(err.match(/a-leaning: the report of "healthy".* has come; it is tried again\.\n/g)).toHaveLength(1);
    expect(terminal.said.out.trim().split('\n')).toEqual(
      ['healthy', 'a-leaning'].map((id) => join(out, 'sessions', id, 'index.html')),
    );
  });

  it('is tried again too when another has built it, and each time that it is another report', async () => {
    const [drop, out] = [join(work, 'drop'), join(work, 'out')];
    lay(drop, 'leaning', 'limits: {from: healthy}\n');
    const place = join(out, 'sessions', 'healthy');
    const terminal = recordingTerminal();
    await watch(
      drop,
      { ...options(), quiet: true },
      terminal,
      world(30, (look) => {
        if (look !== 10 && look !== 20) return;
        mkdirSync(place, { recursive: true });
        const report = JSON.stringify(stored('healthy', '2026-03-01T00:00:00.000Z'));
        writeFileSync(join(place, 'report.json'), look === 10 ? '{}' : report);
      }),
    );
    expect(terminal.said.err.match(/limits\.from/g)).toHaveLength(2);
    expect(terminal.said.err).not.toContain('tried again');
    expect(existsSync(join(out, 'sessions', 'leaning', 'index.html'))).toBe(true);
  });

  it('is not tried again for anything else', async () => {
    const drop = join(work, 'drop');
    lay(drop, 'broken', 'limits: {from: broken, parked_draw: 1}\n');
    const terminal = recordingTerminal();
    await watch(
      drop,
      options(),
      terminal,
      world(30, (look) => {
        if (look === 10) lay(drop, 'healthy');
      }),
    );
    expect(terminal.said.err.match(/limits\.parked_draw/g)).toHaveLength(1);
    expect(terminal.said.err).not.toContain('tried again');
  });
});

/** 13 hours at rest, a row each 10 s: long enough to be without a fault. */
function laySession(folder: string, id: string, more = ''): void {
  mkdirSync(folder, { recursive: true });
  const rows = Array.from(
    { length: 4680 },
    (_, k) => `${new Date(Date.UTC(2026, 2, 3) + k * 10_000).toISOString()},12.6`,
  );
  writeFileSync(join(folder, 'log.csv'), `time,v\n${rows.join('\n')}\n`);
  writeFileSync(
    join(folder, 'session.yaml'),
    `standstill: 1
session: {id: ${id}, title: Title, purpose: baseline, timezone: UTC}
vehicle: {description: Small car, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: flooded}
log: {files: [log.csv], columns: {time: {name: time}, voltage: {name: v, unit: V}}}
${more}`,
  );
}

/** The command's own parts, with a clock on which an arrival is whole at the second look. */
const WATCHER = `
  const at = (name) => ${JSON.stringify(pathToFileURL(join(import.meta.dirname, '../../.build/cli/')).href)} + name;
  const { watch } = await import(at('watch.js'));
  const { untilStopped } = await import(at('until-stopped.js'));
  const say = (stream) => (text) => void stream.write(text);
  const terminal = { out: say(process.stdout), err: say(process.stderr), live: false, colour: false, columns: 80 };
  const [drop, out, browser] = process.argv.slice(1);
  let now = 0;
  const world = { ...untilStopped(terminal), now: () => (now += 60_000) };
  const options = { out, browser, pdf: browser !== '', page: 'a4', redact: false, jobs: 1 };
  process.exitCode = await watch(drop, options, terminal, { ...world, sleep: () => new Promise((go) => setTimeout(go, 5)) });
`;

describe('two watches into one archive', () => {
  it('lose none, and leave it as whole as one', { timeout: 120_000 }, async () => {
    const out = join(work, 'out');
    const drops = ['left', 'right'].map((name) => join(work, name));
    const ids = ['a', 'b', 'c'].flatMap((name) => drops.map((drop, k) => ({ id: `${name}-${k}`, drop })));
    for (const { id, drop } of ids) laySession(join(drop, id), id);
    const children = drops.map((drop) =>
      spawn(process.execPath, ['--input-type=module', '-e', WATCHER, drop, out, '']),
    );
    let said = '';
    let complaint = '';
    for (const child of children) {
      child.stdout.on('data', (text) => {
        said += text;
      });
      child.stderr.on('data', (text) => {
        complaint += text;
      });
    }
    await expect.poll(() => said.trim().split('\n').length, { timeout: 100_000 }).toBe(ids.length);
    const gone = children.map((child) => new Promise((resolve) => child.on('exit', resolve)));
    for (const child of children) child.kill('SIGTERM');
    // Windows ends a process without its hearing of it.
    if (process.platform !== 'win32') expect(await Promise.all(gone)).toEqual([0, 0]);
    else await Promise.all(gone);
    expect(complaint).not.toMatch(/could not|bug/);
    const index = readFileSync(join(out, 'index.html'), 'utf8');
    for (const { id } of ids) expect(index).toContain(`sessions/${id}/index.html`);
    expect(readdirSync(join(out, 'sessions')).sort()).toEqual(ids.map(({ id }) => id).sort());
    if (process.platform !== 'win32')
      expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual(['.summaries']);
  });
});

describe('a watch that is stopped', () => {
  const STOPS = [
    ['SIGINT', false],
    ['SIGTERM', false],
    ['SIGINT', true],
  ] as const;
  // Windows has no signal that one process could send to another and that could be heard.
  const can = process.platform !== 'win32';
  it.skipIf(!can).each(STOPS.filter(([, pdf]) => browserPath || !pdf))(
    'by %s finishes the session at work, begins no other, and ends with 0 (PDF: %s)',
    { timeout: 60_000 },
    async (signal, pdf) => {
      const [drop, out] = [join(work, 'drop'), join(work, 'out')];
      const ids = ['a', 'b', 'c', 'd'];
      for (const id of ids) laySession(join(drop, id), id);
      const child = spawn(process.execPath, [
        '--input-type=module',
        '-e',
        WATCHER,
        drop,
        out,
        (pdf && browserPath) || '',
      ]);
      const said = { out: '', err: '' };
      child.stderr.on('data', (text) => {
        said.err += text;
      });
      child.stdout.on('data', (text) => {
        said.out += text;
        // The first report is there; the second is being made.
        if (said.out.split('\n').length === 2) child.kill(signal);
      });
      const code = await new Promise((resolve) => child.on('exit', resolve));
      expect({ code, err: said.err }).toEqual({ code: 0, err: `Watching ${drop}; stop with Ctrl+C.\n` });
      const built = readdirSync(join(out, 'sessions'));
      expect(built).toEqual(ids.slice(0, built.length));
      expect(built.length).toBeLessThan(ids.length);
      expect(said.out.trim().split('\n')).toHaveLength(built.length);
      for (const id of built) expect(existsSync(join(out, 'sessions', id, 'report.pdf'))).toBe(pdf);
      const index = readFileSync(join(out, 'index.html'), 'utf8');
      for (const id of built) expect(index).toContain(`sessions/${id}/index.html`);
      // What builds keep for the next one, and nothing else.
      expect(readdirSync(out).filter((name) => name.startsWith('.'))).toEqual(['.summaries']);
    },
  );

  it.skipIf(process.platform === 'win32')('while it only waits ends at once with 0', { timeout: 60_000 }, async () => {
    const drop = join(work, 'drop');
    mkdirSync(drop);
    const cli = join(import.meta.dirname, '../../.build/bin/standstill.js');
    const child = spawn(process.execPath, [cli, 'watch', drop, '--out', join(work, 'out'), '--no-pdf']);
    child.stderr.once('data', () => child.kill('SIGINT'));
    expect(await new Promise((resolve) => child.on('exit', resolve))).toBe(0);
  });
});
