/** For every small session of the tests (three, without STANDSTILL_DESK=all) the desk writes in real browsers what the command line writes, to the byte. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { gunzipSync, gzipSync } from 'node:zlib';
import type { Browser, Page } from 'puppeteer';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { nodeFiles } from '../../src/base/disk/node-files.ts';
import { deskPage } from '../../src/cli/desk-page.ts';
import { GERMAN_STYLE } from '../../src/demo/log-text.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { readSession } from '../../src/manifest/read-session.ts';
import { makeReport } from '../../src/node/make-report.ts';
import { VERSION } from '../../src/node/version.ts';
import { reportFiles } from '../../src/report/report-files.ts';
import { SMALL_SESSIONS, type SmallSession, smallSession } from '../cases/small-sessions.ts';
import { disk } from '../demo/disk.ts';
import { ALL, BROWSERS, isTried, launch, openDesk, type Packed, packed } from './browsers.ts';

/** As a script in the page calls it. */
declare const standstill: {
  build(files: unknown): Promise<readonly { path: string; blob: { text(): Promise<string> } }[]>;
};

const folder = mkdtempSync(join(tmpdir(), 'standstill-same-'));
const desk = join(folder, 'desk.html');
afterAll(() => rmSync(folder, { recursive: true, force: true }));

/** Changes the only log of a session. */
function damage(session: string, change: (bytes: Buffer) => Buffer): void {
  const log = join(session, 'log', readdirSync(join(session, 'log'))[0] as string);
  writeFileSync(log, change(readFileSync(log)));
}
const gz = (bytes: Buffer) => gzipSync(bytes);

const OTHERS: Readonly<Record<string, (path: string) => Promise<void>>> = {
  'German decimals': async (path) => {
    const session = smallSession('plain');
    await writeSession(path, { ...session, style: { ...GERMAN_STYLE, split: 'one', gzip: false } }, disk);
  },
  packed: async (path) => {
    const session = smallSession('plain');
    await writeSession(path, { ...session, style: { ...session.style, gzip: true } }, disk);
  },
  'packed, cut short': async (path) => {
    await OTHERS.packed?.(path);
    damage(path, (bytes) => bytes.subarray(0, Math.floor(bytes.length * 0.7)));
  },
  'packed, a byte wrong': async (path) => {
    await OTHERS.packed?.(path);
    damage(path, (bytes) => {
      const wrong = Buffer.from(bytes);
      const at = Math.floor(bytes.length * 0.6);
      wrong.fill(0xff, at, at + 4);
      return wrong;
    });
  },
  'packed, then a great deal of nothing': async (path) => {
    await OTHERS.packed?.(path);
    const nothing = gz(Buffer.alloc(4 << 20));
    damage(path, (bytes) => Buffer.concat([gz(gunzipSync(bytes)), ...Array<Buffer>(80).fill(nothing)]));
  },
  'rows of rubbish': async (path) => {
    await writeSession(path, smallSession('plain'), disk);
    damage(path, (bytes) => {
      const rows = bytes.toString().split('\n');
      for (let k = 500; k < rows.length; k += 700) rows[k] = 'half past nine,\0,"';
      rows.splice(900, 0, ...rows.slice(800, 860));
      return Buffer.from(rows.join('\n'));
    });
  },
};

const NAMES: readonly string[] = ALL
  ? [...Object.keys(SMALL_SESSIONS), ...Object.keys(OTHERS)]
  : ['plain', 'German decimals', 'packed, cut short'];

async function expectedOf(name: string): Promise<{ files: Packed[]; report: Map<string, string> }> {
  const path = join(folder, name.replaceAll(/[ ,]+/g, '-'));
  const own = OTHERS[name];
  if (own) await own(path);
  else await writeSession(path, smallSession(name as SmallSession), disk);
  const session = readSession(path, nodeFiles);
  const language = 'en';
  const made = await makeReport({ ...session, language }, { pageSize: 'a4', language, version: VERSION });
  const report = [...reportFiles(made)].map(([file, text]) => [`sessions/${session.id}/${file}`, text] as const);
  return { files: packed(path), report: new Map(report) };
}

const known = new Map<string, ReturnType<typeof expectedOf>>();
function expected(name: string): ReturnType<typeof expectedOf> {
  const made = known.get(name) ?? expectedOf(name);
  known.set(name, made);
  return made;
}

async function builtIn(page: Page, files: readonly Packed[]): Promise<Map<string, string>> {
  const built = await page.evaluate(async (given) => {
    const bytes = (base64: string) => Uint8Array.from(atob(base64), (sign) => sign.charCodeAt(0));
    const made = await standstill.build(given.map(({ path, base64 }) => new File([bytes(base64)], path)));
    return Promise.all(made.map(async ({ path, blob }) => [path, await blob.text()] as [string, string]));
  }, files);
  return new Map(built);
}

beforeAll(() => writeFileSync(desk, deskPage({ version: VERSION, shop: null, keys: { tool: 'tool', face: 'face' } })));

describe.each(BROWSERS)('in $name', (kind) => {
  let browser: Browser;
  let page: Page;
  let faults: string[];
  beforeAll(async () => {
    if (!isTried(kind)) return;
    browser = await launch(kind);
    ({ page, faults } = await openDesk(browser, desk));
  }, 120_000);
  afterAll(async () => {
    await browser?.close();
  });

  it.skipIf(!isTried(kind)).each(NAMES)(
    'a session: %s',
    async (name) => {
      const { files, report } = await expected(name);
      const built = await builtIn(page, files);
      for (const [path, text] of report) expect(built.get(path) === text, path).toBe(true);
      expect([...built.keys()]).toEqual(expect.arrayContaining(['index.html', 'checks.html', 'archive.css']));
      expect(faults).toEqual([]);
    },
    200_000,
  );

  it.skipIf(!isTried(kind))(
    'gives itself away as it is',
    async () => {
      const { files } = await expected('plain');
      const built = await builtIn(page, files);
      expect(built.get('desk.html') === readFileSync(desk, 'utf8')).toBe(true);
    },
    200_000,
  );
});
