/** Where a browser may be found on this machine, in the order in which they are tried. Starts nothing. */
import { accessSync, constants, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { posix, win32 } from 'node:path';

/** The machine, as far as finding and starting a browser needs it; handed in so that tests can be any machine. */
export interface Host {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly platform: NodeJS.Platform;
  /** As `process.arch` names it. */
  readonly arch: string;
  /** 0 is root; undefined where there is no such number (Windows). */
  readonly uid: number | undefined;
  /** Folder for what lives only as long as the process. */
  readonly tmp: string;
  /** Main file of the package that carries the embedded browser; undefined when it is not installed. */
  readonly embeddedPackage: string | undefined;
  /** True for a file that this user may run. */
  isProgram(path: string): boolean;
}

export interface Candidate {
  /** How it came to be tried, for people: `STANDSTILL_BROWSER`, `chromium on PATH`. */
  readonly from: string;
  /** The program; undefined for the embedded browser, which has to be unpacked first. */
  readonly path?: string;
}

export interface Search {
  readonly candidates: readonly Candidate[];
  /** What was looked for and is not there, one line each. */
  readonly missing: readonly string[];
}

const ON_PATH = [
  'chrome-headless-shell',
  'chromium',
  'chromium-browser',
  'google-chrome',
  'google-chrome-stable',
  'microsoft-edge',
];

export function thisHost(): Host {
  return {
    env: process.env,
    platform: process.platform,
    arch: process.arch,
    uid: process.getuid?.(),
    tmp: tmpdir(),
    embeddedPackage: embeddedPackage(),
    isProgram,
  };
}

/**
 * Every browser worth trying, best first. One that a person named (option or variable) is the only one tried: when it
 * is wrong they want to hear so, not get the work of another.
 */
export function findBrowsers(host: Host, browserPath?: string): Search {
  const named = namedBrowser(host, browserPath);
  if (named) {
    if (host.isProgram(named.path)) return { candidates: [named], missing: [] };
    return {
      candidates: [],
      missing: [`${named.from} says ${named.path}, which is no program; without it one is looked for`],
    };
  }
  const candidates: Candidate[] = [];
  const missing: string[] = [];

  const onPath = ON_PATH.map((name) => ({ from: `${name} on PATH`, path: programOnPath(host, name) }));
  candidates.push(...onPath.filter((candidate) => candidate.path !== undefined));
  if (candidates.length === 0) missing.push(`${ON_PATH.join(', ')} on PATH: none`);

  const installed = usualPlaces(host).filter((candidate) => host.isProgram(candidate.path));
  candidates.push(...installed);
  if (installed.length === 0) missing.push('Chrome and Edge where they are usually installed: none');

  if (host.platform !== 'linux' || host.arch !== 'x64') {
    missing.push(`the embedded browser: made for linux x64 only, this is ${host.platform} ${host.arch}`);
  } else if (host.embeddedPackage === undefined) {
    missing.push('the embedded browser: the optional package @sparticuz/chromium is not installed');
  } else {
    candidates.push({ from: 'the embedded browser' });
  }
  return { candidates, missing };
}

/** The one command that gets this machine a browser that `findBrowsers` will see. */
export function remedy(host: Host): string {
  if (host.platform === 'darwin') return 'brew install --cask google-chrome';
  if (host.platform === 'win32') return 'winget install --id Google.Chrome --exact';
  if (host.platform === 'linux' && host.arch === 'x64' && host.embeddedPackage === undefined) {
    return 'npm ci --include=optional';
  }
  const sudo = host.uid === 0 ? '' : 'sudo ';
  // snap first: where it exists, apt's chromium is an empty package that points to it.
  const managers: readonly (readonly [program: string, words: string])[] = [
    ['snap', 'snap install chromium'],
    ['apt-get', 'apt-get install -y chromium'],
    ['dnf', 'dnf install -y chromium'],
    ['zypper', 'zypper install -y chromium'],
    ['pacman', 'pacman -S --noconfirm chromium'],
    ['apk', 'apk add chromium'],
  ];
  const found = managers.find(([program]) => programOnPath(host, program) !== undefined);
  return found ? sudo + found[1] : 'standstill build FOLDER --browser PATH-TO-CHROMIUM';
}

function namedBrowser(host: Host, browserPath: string | undefined): { from: string; path: string } | undefined {
  if (browserPath) return { from: '--browser', path: browserPath };
  for (const name of ['STANDSTILL_BROWSER', 'PUPPETEER_EXECUTABLE_PATH']) {
    const path = host.env[name];
    if (path) return { from: name, path };
  }
  return undefined;
}

function programOnPath(host: Host, name: string): string | undefined {
  const path = host.platform === 'win32' ? win32 : posix;
  const file = host.platform === 'win32' ? `${name}.exe` : name;
  return (host.env.PATH ?? host.env.Path ?? '')
    .split(path.delimiter)
    .filter((folder) => path.isAbsolute(folder)) // an empty or relative entry would run what lies in the session folder
    .map((folder) => path.join(folder, file))
    .find((program) => host.isProgram(program));
}

/** Install places of the two browsers, as their vendors' installers choose them (common practice). */
function usualPlaces(host: Host): { from: string; path: string }[] {
  if (host.platform === 'win32') {
    const roots = ['PROGRAMFILES', 'ProgramW6432', 'ProgramFiles(x86)', 'LOCALAPPDATA']
      .map((name) => host.env[name])
      .filter((root) => root !== undefined);
    return [...new Set(roots)].flatMap((root) => [
      { from: 'installed Chrome', path: win32.join(root, 'Google', 'Chrome', 'Application', 'chrome.exe') },
      { from: 'installed Edge', path: win32.join(root, 'Microsoft', 'Edge', 'Application', 'msedge.exe') },
    ]);
  }
  if (host.platform === 'darwin') {
    const roots = ['/Applications', ...(host.env.HOME ? [posix.join(host.env.HOME, 'Applications')] : [])];
    return roots.flatMap((root) => [
      { from: 'installed Chrome', path: posix.join(root, 'Google Chrome.app/Contents/MacOS/Google Chrome') },
      { from: 'installed Edge', path: posix.join(root, 'Microsoft Edge.app/Contents/MacOS/Microsoft Edge') },
    ]);
  }
  return [
    { from: 'installed Chrome', path: '/opt/google/chrome/chrome' },
    { from: 'installed Edge', path: '/opt/microsoft/msedge/msedge' },
  ];
}

function isProgram(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return statSync(path).isFile();
  } catch {
    return false;
  }
}

function embeddedPackage(): string | undefined {
  try {
    return createRequire(import.meta.url).resolve('@sparticuz/chromium');
  } catch {
    return undefined;
  }
}
