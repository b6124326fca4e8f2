import { describe, expect, test } from 'vitest';
import { findBrowsers, type Host, remedy } from '../../../src/report/pdf/browser-find.ts';

/** A machine on which exactly `programs` can be run. */
function machine(programs: readonly string[], change: Partial<Host> = {}): Host {
  return {
    env: { PATH: '/usr/local/bin:/usr/bin' },
    platform: 'linux',
    arch: 'x64',
    uid: 1000,
    tmp: '/tmp',
    embeddedPackage: '/modules/chromium/index.cjs',
    isProgram: (path) => programs.includes(path),
    ...change,
  };
}

const found = (host: Host, browserPath?: string) =>
  findBrowsers(host, browserPath).candidates.map(({ path }) => path ?? 'embedded');

describe('findBrowsers', () => {
  const all = ['/opt/mine', '/env/mine', '/env/other', '/usr/bin/chromium', '/opt/google/chrome/chrome'];

  test('a named browser is the only one, the option before the variables', () => {
    const env = { PATH: '/usr/bin', STANDSTILL_BROWSER: '/env/mine', PUPPETEER_EXECUTABLE_PATH: '/env/other' };
    expect(found(machine(all, { env }), '/opt/mine')).toEqual(['/opt/mine']);
    expect(found(machine(all, { env }))).toEqual(['/env/mine']);
    expect(found(machine(all, { env: { ...env, STANDSTILL_BROWSER: '' } }))).toEqual(['/env/other']);
  });

  test('a named browser that is not there is told, and no other is taken in its place', () => {
    const env = { PATH: '/usr/bin', STANDSTILL_BROWSER: '/env/gone' };
    const search = findBrowsers(machine(all, { env }));
    expect(search.candidates).toEqual([]);
    expect(search.missing).toEqual([
      'STANDSTILL_BROWSER says /env/gone, which is no program; without it one is looked for',
    ]);
  });

  test('on PATH before installed before embedded; a headless shell before all', () => {
    expect(found(machine(all))).toEqual(['/usr/bin/chromium', '/opt/google/chrome/chrome', 'embedded']);
    expect(found(machine([...all, '/usr/bin/chrome-headless-shell']))[0]).toBe('/usr/bin/chrome-headless-shell');
  });

  test('relative and empty PATH entries are passed over', () => {
    const env = { PATH: ':.:bin' };
    expect(found(machine(['chromium', 'bin/chromium', './chromium'], { env }))).toEqual(['embedded']);
  });

  test('Windows and macOS: Chrome, then Edge, where installers put them', () => {
    const windows = {
      platform: 'win32' as const,
      env: {
        PATH: 'C:\\tools;D:\\more',
        PROGRAMFILES: 'C:\\Program Files',
        'ProgramFiles(x86)': 'C:\\Program Files (x86)',
      },
    };
    const edge = 'C:\\Program Files (x86)\\Microsoft\\Edge\\Application\\msedge.exe';
    expect(found(machine([edge], windows))).toEqual([edge]);
    expect(found(machine([edge, 'D:\\more\\chromium.exe'], windows))).toEqual(['D:\\more\\chromium.exe', edge]);
    const chrome = '/Users/o/Applications/Google Chrome.app/Contents/MacOS/Google Chrome';
    expect(found(machine([chrome], { platform: 'darwin', arch: 'arm64', env: { HOME: '/Users/o' } }))).toEqual([
      chrome,
    ]);
  });

  test('what is missing is told, also why there is no embedded browser', () => {
    expect(findBrowsers(machine([], { arch: 'arm64' })).missing).toEqual([
      expect.stringContaining('on PATH: none'),
      expect.stringContaining('usually installed: none'),
      'the embedded browser: made for linux x64 only, this is linux arm64',
    ]);
    expect(findBrowsers(machine([], { embeddedPackage: undefined })).missing[2]).toContain('@sparticuz/chromium');
  });
});

describe('remedy', () => {
  test.each([
    ['optional package left out', machine([], { embeddedPackage: undefined }), 'npm ci --include=optional'],
    ['Debian', machine(['/usr/bin/apt-get'], { arch: 'arm64' }), 'sudo apt-get install -y chromium'],
    ['Debian as root', machine(['/usr/bin/apt-get'], { arch: 'arm64', uid: 0 }), 'apt-get install -y chromium'],
    ['Ubuntu', machine(['/usr/bin/apt-get', '/usr/bin/snap'], { arch: 'arm64' }), 'sudo snap install chromium'],
    ['Fedora', machine(['/usr/bin/dnf'], { arch: 'arm64' }), 'sudo dnf install -y chromium'],
    ['macOS', machine([], { platform: 'darwin' }), 'brew install --cask google-chrome'],
    ['Windows', machine([], { platform: 'win32' }), 'winget install --id Google.Chrome --exact'],
  ])('%s', (_, host, command) => {
    expect(remedy(host)).toBe(command);
  });
});
