/**
 * The browser inside the package @sparticuz/chromium, unpacked once for each version into a private folder (about 200 MB).
 *
 * Several first runs at once are right because a whole folder appears by one rename; the lock only saves them from
 * all doing the same work. A folder in which a file is missing or has the wrong size is unpacked again.
 */
import { execFile } from 'node:child_process';
import { chmod, lstat, mkdtemp, open, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { promisify } from 'node:util';
import { makeFolder } from '../../base/disk/make-folder.ts';
import type { Host } from './browser-find.ts';

export interface EmbeddedBrowser {
  readonly path: string;
  /** What its process needs in its environment: its own libraries and fonts. Never set for any other process. */
  readonly env: Readonly<Record<string, string>>;
}

/** A lock or a half-unpacked folder older than this was left by a process that died; unpacking takes seconds. */
const STALE_MS = 120_000;
const PARTS_LIST = 'unpacked.json';

/**
 * The package unpacks into the temporary folder and adds its own copies of libnss3, libnspr4 and libexpat1 only when
 * it believes itself in its serverless home. A child process believes it, so that nothing of this leaks into ours.
 */
const UNPACK_SCRIPT = `
const chromium = require(process.argv[1]);
(chromium.default ?? chromium).executablePath().catch((error) => {
  process.stderr.write(String(error.message));
  process.exitCode = 1;
});`;

/**
 * Fonts for text that the page's own font has no glyph for: first the package's, so that the choice does not depend on
 * the machine, then whatever is installed.
 */
const FONTS_CONF = `<?xml version="1.0"?>
<!DOCTYPE fontconfig SYSTEM "fonts.dtd">
<fontconfig>
  <dir prefix="relative">fonts</dir>
  <dir>/usr/share/fonts</dir>
  <dir>/usr/local/share/fonts</dir>
  <cachedir prefix="xdg">fontconfig</cachedir>
  <alias><family>sans-serif</family><prefer><family>Open Sans</family></prefer></alias>
  <alias><family>serif</family><prefer><family>Open Sans</family></prefer></alias>
  <alias><family>monospace</family><prefer><family>Open Sans</family></prefer></alias>
</fontconfig>
`;

/**
 * Unpacks the embedded browser unless it is there already, and says how to start it.
 * Throws an Error in plain words when the package is not installed or no private folder can be made.
 */
export async function embeddedBrowser(host: Host): Promise<EmbeddedBrowser> {
  if (host.embeddedPackage === undefined) throw new Error('the package @sparticuz/chromium is not installed');
  const version = await packageVersion(host.embeddedPackage);
  const cache = await privateCacheFolder(host);
  const folder = join(cache, `browser-${version}`);
  if (!(await isWhole(folder))) {
    await underLock(`${folder}.lock`, async () => {
      if (!(await isWhole(folder))) await unpack(host, host.embeddedPackage as string, cache, folder);
    });
  }
  const libraries = join(folder, 'al2023', 'lib');
  return {
    path: join(folder, 'chromium'),
    env: {
      LD_LIBRARY_PATH: [libraries, host.env.LD_LIBRARY_PATH].filter(Boolean).join(':'),
      FONTCONFIG_FILE: join(folder, 'fonts', 'fonts.conf'),
    },
  };
}

async function unpack(host: Host, packageMain: string, cache: string, folder: string): Promise<void> {
  await removeStaleParts(cache);
  const parts = await mkdtemp(join(cache, 'unpacking-'));
  try {
    await promisify(execFile)(process.execPath, ['-e', UNPACK_SCRIPT, packageMain], {
      env: { PATH: host.env.PATH, TMPDIR: parts, AWS_EXECUTION_ENV: 'AWS_Lambda_nodejs22.x' },
      timeout: STALE_MS,
    });
    await writeFile(join(parts, 'fonts', 'fonts.conf'), FONTS_CONF);
    await writeFile(join(parts, PARTS_LIST), JSON.stringify(await fileSizes(parts)));
    // A damaged folder is moved aside first: a rename does not replace a folder that has something in it.
    await rename(folder, join(parts, 'damaged')).catch(ignoreMissing);
    await rename(parts, folder).catch(async (error) => {
      if (!(await isWhole(folder))) throw error; // otherwise another process has just put a whole one there
    });
    await rm(join(folder, 'damaged'), { recursive: true, force: true });
  } finally {
    await rm(parts, { recursive: true, force: true });
  }
}

/** Bytes of every file below a folder, by its path inside it. */
async function fileSizes(folder: string): Promise<Record<string, number>> {
  const sizes: Record<string, number> = {};
  for (const entry of await readdir(folder, { recursive: true })) {
    const found = await stat(join(folder, entry));
    if (found.isFile()) sizes[entry] = found.size;
  }
  return sizes;
}

async function isWhole(folder: string): Promise<boolean> {
  try {
    const sizes: Record<string, number> = JSON.parse(await readFile(join(folder, PARTS_LIST), 'utf8'));
    const isWhole = async ([file, size]: [string, number]) => (await stat(join(folder, file))).size === size;
    const whole = await Promise.all(Object.entries(sizes).map(isWhole));
    return (sizes.chromium ?? 0) > 0 && whole.every(Boolean);
  } catch {
    return false;
  }
}

async function packageVersion(packageMain: string): Promise<string> {
  const manifest = JSON.parse(await readFile(join(dirname(packageMain), '..', '..', 'package.json'), 'utf8'));
  return String(manifest.version);
}

/** The first of the user's cache folders that can be made ours alone: what lies in it will be run as a program. */
async function privateCacheFolder(host: Host): Promise<string> {
  const { XDG_CACHE_HOME, HOME } = host.env;
  const choices = [
    ...(XDG_CACHE_HOME?.startsWith('/') ? [join(XDG_CACHE_HOME, 'standstill')] : []),
    ...(HOME?.startsWith('/') ? [join(HOME, '.cache', 'standstill')] : []),
    join(host.tmp, `standstill-${host.uid}`),
  ];
  for (const choice of choices) if (await isMadePrivate(choice, host.uid)) return choice;
  throw new Error(`none of these folders could be made private for unpacking it: ${choices.join(', ')}`);
}

async function isMadePrivate(folder: string, uid: number | undefined): Promise<boolean> {
  try {
    await makeFolder(folder, 0o700);
    const found = await lstat(folder); // not stat: a link could lead to where somebody else may write
    if (!found.isDirectory() || found.uid !== uid) return false;
    await chmod(folder, 0o700);
    await rm(await mkdtemp(join(folder, 'probe-')), { recursive: true });
    return true;
  } catch {
    return false;
  }
}

async function underLock(lock: string, work: () => Promise<void>): Promise<void> {
  const giveUpAt = Date.now() + STALE_MS;
  for (;;) {
    try {
      await (await open(lock, 'wx', 0o600)).close();
      break;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== 'EEXIST') throw error;
      const heldSince = await stat(lock).then((found) => found.mtimeMs, ignoreMissing);
      if (heldSince !== undefined && Date.now() - heldSince > STALE_MS) await rm(lock, { force: true });
      else if (Date.now() > giveUpAt)
        break; // working twice is only slow, waiting for ever is wrong
      else await sleep(50);
    }
  }
  try {
    await work();
  } finally {
    await rm(lock, { force: true });
  }
}

async function removeStaleParts(cache: string): Promise<void> {
  for (const entry of await readdir(cache)) {
    if (!entry.startsWith('unpacking-')) continue;
    const found = await stat(join(cache, entry)).catch(ignoreMissing);
    if (found && Date.now() - found.mtimeMs > STALE_MS) await rm(join(cache, entry), { recursive: true, force: true });
  }
}

function ignoreMissing(error: NodeJS.ErrnoException): undefined {
  if (error.code !== 'ENOENT') throw error;
}
