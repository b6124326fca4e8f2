/** Links that somebody laid into an archive: nothing behind them is written, deleted or handed out. */
import {
  existsSync,
  lstatSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  symlinkSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { recordingTerminal } from '../cli/terminal.ts';
import { changed, stored } from './reports.ts';

let work = '';
let out = '';
let other = '';
beforeEach(() => {
  work = mkdtempSync(join(tmpdir(), 'standstill-links-'));
  out = join(work, 'out');
  other = join(work, 'other');
  mkdirSync(join(other, 'kept'), { recursive: true });
  writeFileSync(join(other, 'kept', 'file.txt'), "somebody's");
  for (const [id, registration] of [['ann-1', '17-ANN-1']] as const) {
    const report = changed(stored(id, '2026-03-03T00:00:00.000Z'), (own) => {
      own.session.vehicle.registration = registration;
    });
    mkdirSync(join(out, 'sessions', id), { recursive: true });
    writeFileSync(join(out, 'sessions', id, 'report.json'), JSON.stringify(report));
  }
});
afterEach(() => rmSync(work, { recursive: true, force: true }));

async function call(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(words, terminal);
  return { code, ...terminal.said };
}
const untouched = () => {
  expect(readdirSync(other)).toEqual(['kept']);
  expect(readdirSync(join(other, 'kept'))).toEqual(['file.txt']);
  expect(readFileSync(join(other, 'kept', 'file.txt'), 'utf8')).toBe("somebody's");
};

describe.skipIf(process.platform === 'win32')('a link', () => {
  it.each(['vehicles', 'sessions', 'comparisons', 'tables'])(
    'in place of %s is named, and not followed',
    async (name) => {
      rmSync(join(out, name), { recursive: true, force: true });
      symlinkSync(other, join(out, name));
      for (const words of [
        ['index', out],
        ['tables', '--out', out],
        ['index', out, '--for', 'ann-1', '--into', join(work, 'into')],
      ]) {
        const { code, err } = await call(...words);
        expect(code).toBe(1);
        expect(err).toContain(join(out, name));
        if (existsSync(join(out, 'sessions'))) expect(err).not.toContain('bug');
      }
      untouched();
    },
  );

  it('in place of a vehicle’s folder gives way to it', async () => {
    expect((await call('index', out)).code).toBe(0);
    const [vehicle] = readdirSync(join(out, 'vehicles'));
    rmSync(join(out, 'vehicles', vehicle), { recursive: true });
    symlinkSync(join(other, 'kept'), join(out, 'vehicles', vehicle));
    expect((await call('index', out)).code).toBe(0);
    expect(lstatSync(join(out, 'vehicles', vehicle)).isDirectory()).toBe(true);
    untouched();
  });

  it('in place of a page gives way to it', async () => {
    symlinkSync(join(other, 'kept', 'file.txt'), join(out, 'index.html'));
    symlinkSync(join(other, 'kept', 'file.txt'), join(out, `.index.html.new-${process.pid}`));
    expect((await call('index', out)).code).toBe(0);
    expect(lstatSync(join(out, 'index.html')).isFile()).toBe(true);
    untouched();
  });

  it('is not handed out', async () => {
    const into = join(work, 'into');
    symlinkSync(join(other, 'kept', 'file.txt'), join(out, 'sessions', 'ann-1', 'notes.txt'));
    symlinkSync(other, join(out, 'sessions', 'ann-1', 'charts'));
    expect((await call('index', out, '--for', 'ann-1', '--into', into)).code).toBe(0);
    expect(readdirSync(join(into, 'sessions', 'ann-1'))).toEqual(['report.json']);
  });

  it('does not lead a hand-out into the archive', async () => {
    symlinkSync(out, join(work, 'way'));
    const { code, err } = await call('index', out, '--for', 'ann-1', '--into', join(work, 'way', 'sessions', 'ann-2'));
    expect({ code, err }).toMatchObject({ code: 1, err: expect.stringContaining('lies in the archive itself') });
    expect(readdirSync(join(out, 'sessions'))).toEqual(['ann-1']);
  });
});
