/**
 * An archive that cannot be written: a disk that is full, a file that may not grow, a folder that may only be read. The
 * compiled program runs in a child of its own; what was in the archive before must be there after, to the byte.
 */
import { execFileSync, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';

const CLI = join(import.meta.dirname, '../../.build/bin/standstill.js');
const work = mkdtempSync(join(tmpdir(), 'standstill-no-room-'));
afterAll(() => {
  // What a test made read-only would stay.
  execFileSync('chmod', ['-R', 'u+w', work]);
  rmSync(work, { recursive: true, force: true });
});

function laySession(folder: string, title: string, id = 'one'): void {
  mkdirSync(folder, { recursive: true });
  const rows = Array.from({ length: 720 }, (_, k) => {
    const at = new Date(Date.UTC(2026, 2, 3) + k * 60_000).toISOString();
    return `${at},${(12.6 - (k % 3) * 0.001).toFixed(3)},${(-0.02 - (k % 2) * 0.001).toFixed(3)}`;
  });
  writeFileSync(join(folder, 'log.csv'), `time,v,a\n${rows.join('\n')}\n`);
  writeFileSync(
    join(folder, 'session.yaml'),
    `standstill: 1
session: {id: ${id}, title: ${title}, purpose: baseline, timezone: UTC}
vehicle: {description: Small car, powertrain: combustion, system_voltage: 12 V, registration: 17-A-1}
battery: {chemistry: flooded, capacity: 60 Ah}
log:
  files: [log.csv]
  columns: {time: {name: time}, voltage: {name: v, unit: V}, current: {name: a, unit: A, positive: charging}}
`,
  );
}

/** Builds the first session, then the second of the same id where there is no room, then again where there is. */
const SCRIPT = `
  if [ -n "$ROOM" ]; then mount -t tmpfs -o size=8m tmpfs out; fi
  build() { node "$CLI" build "$1" --out out --no-pdf 2>>"$2"; }
  build first /dev/null || exit 90
  cp -R out before
  if [ -n "$ROOM" ]; then
    cat /dev/zero >out/fill 2>/dev/null
    [ "$ROOM" = none ] || truncate -s "-$ROOM" out/fill
    build second said; echo $? >code
    rm out/fill
  else
    (ulimit -f "$BLOCKS"; build second said; echo $? >code)
  fi
  cp -R out after
  build second said-then || exit 91
  cp -R out end
`;

/** Every file below, with what it holds. */
const content = (folder: string) =>
  Object.fromEntries(
    readdirSync(folder, { recursive: true, withFileTypes: true })
      .filter((one) => one.isFile())
      .map((one) => join(one.parentPath, one.name))
      .map((path) => [path.slice(folder.length), readFileSync(path, 'latin1')]),
  );

const mayMount = () =>
  spawnSync('unshare', ['-rm', 'sh', '-c', `mount -t tmpfs -o size=1m tmpfs ${JSON.stringify(work)}`]).status === 0;
const isPosix = process.platform !== 'win32';
const isLinux = process.platform === 'linux' && mayMount();
if (!isLinux) console.warn('A file system of our own cannot be mounted here: the tests of a full disk are skipped.');

const WAYS: [name: string, can: boolean, env: Record<string, string>, why: RegExp][] = [
  ['a file that may not grow to the size of a page', isPosix, { BLOCKS: '200' }, /may not become so large \(EFBIG\)/],
  ['a disk with no room at all', isLinux, { ROOM: 'none' }, /there is no room left on it \(ENOSPC\)/],
  ['a disk with room for half a report', isLinux, { ROOM: '300K' }, /there is no room left on it \(ENOSPC\)/],
];

describe.each(WAYS)('%s', (name, can, env, why) => {
  it.skipIf(!can)(
    'leaves the earlier report and its index, says why, and is no trouble later',
    { timeout: 60_000 },
    () => {
      const folder = join(work, name.replaceAll(' ', '-'));
      laySession(join(folder, 'first'), 'First title');
      laySession(join(folder, 'second'), 'Second title');
      mkdirSync(join(folder, 'out'));
      const shell = env.ROOM ? ['unshare', '-rm', 'sh'] : ['sh'];
      const { status, stderr } = spawnSync(shell[0], [...shell.slice(1), '-c', SCRIPT], {
        cwd: folder,
        env: { ...process.env, CLI, ROOM: '', ...env },
        encoding: 'utf8',
      });
      expect({ status, stderr }).toEqual({ status: 0, stderr: '' });
      const said = readFileSync(join(folder, 'said'), 'utf8');
      expect(said).toMatch(why);
      expect(said).toContain('What was there is still whole.');
      expect(said).not.toMatch(/bug in Standstill|^\s+at /m);
      expect(readFileSync(join(folder, 'code'), 'utf8')).toBe('1\n');
      expect(content(join(folder, 'after'))).toEqual(content(join(folder, 'before')));
      const end = content(join(folder, 'end'));
      expect(Object.keys(end)).toEqual(Object.keys(content(join(folder, 'before'))));
      expect(end[join('/', 'sessions', 'one', 'index.html')]).toContain('Second title');
      expect(readFileSync(join(folder, 'said-then'), 'utf8')).toBe('');
    },
  );
});

/**
 * Root may write everywhere: the child does without that right. It stays root, since the checkout, or Node itself, may lie in a
 * folder that nobody else may enter.
 */
const isRoot = process.getuid?.() === 0;
const CAPS = '-dac_override,-dac_read_search';
const WITHOUT_RIGHT = ['setpriv', `--bounding-set=${CAPS}`, `--inh-caps=${CAPS}`];
const canBeHindered =
  isPosix && (!isRoot || spawnSync(WITHOUT_RIGHT[0], [...WITHOUT_RIGHT.slice(1), 'true']).status === 0);

describe.skipIf(!canBeHindered)('an archive that may only be read', () => {
  it('stays as it is, and the reason is told', () => {
    const folder = join(work, 'read-only');
    const [out, session] = [join(folder, 'out'), join(folder, 'first')];
    laySession(session, 'First title');
    const call = (...words: string[]) => {
      const [program, ...before] = [...(isRoot ? WITHOUT_RIGHT : []), process.execPath, CLI];
      return spawnSync(program, [...before, ...words, '--out', out], { encoding: 'utf8' });
    };
    mkdirSync(out);
    laySession(join(folder, 'other'), 'Another', 'two');
    const folders = [session, join(folder, 'other')];
    expect(spawnSync(process.execPath, [CLI, 'build', ...folders, '--out', out, '--no-pdf']).status).toBe(0);
    execFileSync('chmod', ['-R', 'a-w', out]);
    const before = content(out);
    laySession(session, 'Second title');
    for (const words of [['build', session, '--no-pdf'], ['tables'], ['compare', 'one', 'two', '--no-pdf']]) {
      const { status, stderr } = call(...words);
      expect(status, stderr).toBe(1);
      expect(stderr).toMatch(/cannot be written: you may not write there \(EACCES\)\. What was there is still whole\./);
      expect(stderr).not.toMatch(/bug in Standstill|^\s+at /m);
    }
    expect(content(out)).toEqual(before);
  });
});
