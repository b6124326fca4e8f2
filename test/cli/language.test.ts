/** Sessions built in German, from the manifest to the archive's pages: no English is left but what people wrote. */

import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { mkdir } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { run } from '../../src/cli/run.ts';
import { writeSession } from '../../src/demo/write-session.ts';
import { loadContent } from '../../src/node/content.ts';
import { flatten } from '../../src/report/words/content.ts';
import { smallSession } from '../cases/small-sessions.ts';
import { disk } from '../demo/disk.ts';
import { recordingTerminal } from './terminal.ts';

const work = mkdtempSync(join(tmpdir(), 'standstill-language-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));

/** What people wrote: it stands in every language as it is. */
const WRITTEN = ['A small session', 'Invented vehicle', 'Tracker supply', 'Van 12', 'Does it sleep', 'Doors locked'];
const OUTS = { en: join(work, 'en'), de: join(work, 'de') };

async function call(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(words, terminal);
  return { code, ...terminal.said };
}

const startOf = (id: string, start: number) => start + (id === 'after' ? 10 * 86_400 : 0);

async function laySession(id: string, name: Parameters<typeof smallSession>[0], damage: (rows: string[]) => void) {
  const session = smallSession(name);
  const folder = join(work, 'sessions', id);
  await writeSession(
    folder,
    {
      ...session,
      scenario: { ...session.scenario, start: startOf(id, session.scenario.start) },
      words: {
        ...session.words,
        session: { ...session.words.session, id, concern: 'Does it sleep' },
        vehicle: { description: 'Invented vehicle', registration: 'Van 12' },
        notes: [{ at: startOf(id, session.scenario.start) + 600, text: 'Doors locked' }],
      },
    },
    disk,
  );
  const [log] = readdirSync(join(folder, 'log'));
  const rows = readFileSync(join(folder, 'log', log), 'utf8').split('\n');
  damage(rows);
  writeFileSync(join(folder, 'log', log), rows.join('\n'));
  return folder;
}

/** One of each fault that the reader tells in words. */
function damaged(rows: string[]): void {
  const later = (row: string, hours: number) =>
    row.replace(/T(\d\d)/, (_, hour) => `T${String(Number(hour) + hours).padStart(2, '0')}`);
  rows[400] = rows[400].slice(0, 27);
  rows[500] = rows[500].replace(/^[^,]*/, 'half past nine');
  rows[600] = rows[600].replace(/,[^,]*/, ',about twelve');
  rows[700] = rows[700].replace(/,[^,]*/, ',4000');
  rows.splice(900, 0, ...rows.slice(800, 860));
  rows.splice(1200, 0, later(rows[1200], 3));
  for (let k = 1400; k < 1600; k++) rows[k] = later(rows[k], -1);
}

let folders: string[] = [];
beforeAll(async () => {
  folders = [
    await laySession('before', 'battery off for a while', damaged),
    await laySession('after', 'plain', () => {}),
  ];
  await mkdir(OUTS.de);
  writeFileSync(join(OUTS.de, 'shop.yaml'), 'language: de\n');
  for (const out of Object.values(OUTS)) {
    expect(await call('build', ...folders, '--no-pdf', '--out', out)).toMatchObject({ code: 0, err: '' });
    expect(await call('compare', 'before', 'after', '--no-pdf', '--out', out)).toMatchObject({ code: 0, err: '' });
    // So that the vehicle's page knows of the comparison.
    expect(await call('index', out)).toMatchObject({ code: 0, err: '' });
  }
}, 60_000);

const below = (out: string, ending: string) =>
  readdirSync(out, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith(ending))
    .sort();
const read = (out: string, name: string) => readFileSync(join(out, name), 'utf8');

/** Everything that is seen or read aloud. */
function saidIn(html: string): string[] {
  const body = html.replaceAll(/<(style|script|code)\b[\s\S]*?<\/\1>/g, '<br>');
  const attributes = [...body.matchAll(/ (?:aria-label|alt|title|data-text)="([^"]*)"/g)].map(([, text]) => text);
  const texts = body.split(/<[^>]*>/);
  return [...texts, ...attributes]
    .map((text) => text.replaceAll('&quot;', '"').trim())
    .filter((text) => /\p{L}/u.test(text));
}

/** Two words or more, without what people wrote, names of files, and keys for programs. */
function isProse(text: string): boolean {
  if (/^[a-z\d/-]+$/.test(text)) return false;
  const bare = WRITTEN.reduce((rest, own) => rest.replaceAll(own, ''), text)
    .replaceAll(/"[^"]*"/g, '')
    .replaceAll(/\b[\w-]+\.(?:csv|yaml|json|html)\b/g, '')
    // Minutes are the same in both.
    .replaceAll(/\d\smin\b/g, '');
  return (bare.match(/\b\p{Ll}{3,}\b/gu) ?? []).length > 1;
}

describe('a shop that works in German', () => {
  const pages = () => below(OUTS.de, '.html');

  it('has the same pages, each of which says its language', () => {
    expect(pages()).toEqual(below(OUTS.en, '.html'));
    // With the fleet's page, a month's, and the desk.
    expect(pages().length).toBe(9);
    for (const name of pages()) {
      expect(read(OUTS.de, name)).toContain('<html lang="de">');
      expect(read(OUTS.en, name)).toContain('<html lang="en">');
    }
  });

  it('says nothing that its English pages say', () => {
    for (const name of pages()) {
      const english = new Set(saidIn(read(OUTS.en, name)));
      const left = saidIn(read(OUTS.de, name)).filter((text) => english.has(text) && isProse(text));
      expect(left, name).toEqual([]);
    }
  });

  it('has no English label left, also where it is one word', () => {
    const [en, de] = ['en', 'de'].map((language) => loadContent(language));
    const english = ['labels.yaml', 'charts.yaml'].flatMap((file) => {
      const own = flatten(parse(de.text(file)));
      return [...flatten(parse(en.text(file)))].filter(([key, text]) => own.get(key) !== text).map(([, text]) => text);
    });
    const german = new Set(
      ['labels.yaml', 'charts.yaml'].flatMap((file) => [...flatten(parse(de.text(file))).values()]),
    );
    const labels = new Set(english.filter((text) => !german.has(text)));
    expect(labels.size).toBeGreaterThan(300);
    for (const name of pages()) {
      const left = saidIn(read(OUTS.de, name)).filter((text) => labels.has(text.replace(/[.:]$/, '')));
      expect(left, name).toEqual([]);
    }
  });

  it('says nothing in its reports for programs that the English ones say', () => {
    const strings = (value: unknown): string[] =>
      typeof value === 'string' ? [value] : Object.values(value ?? {}).flatMap(strings);
    for (const name of below(OUTS.de, 'report.json')) {
      const english = new Set(strings(JSON.parse(read(OUTS.en, name))));
      const own = JSON.parse(read(OUTS.de, name));
      expect(own).toMatchObject({ language: 'de', session: { language: 'de' } });
      expect(own.log.faults.length === 0 || own.log.faults.length > 5).toBe(true);
      expect(
        strings(own).filter((text) => english.has(text) && isProse(text)),
        name,
      ).toEqual([]);
    }
  });

  it('writes numbers and dates as German does', () => {
    const said = saidIn(read(OUTS.de, join('sessions', 'before', 'index.html'))).join('\n');
    expect(said).toMatch(/\d,\d+\u00a0V/);
    expect(said).not.toMatch(/\d\.\d+\u00a0(?:V|A|Ah|mΩ)\b/);
    expect(said).toContain('Di.\u00a03.\u00a0März\u00a02026');
    expect(said).toContain('0,1 % + 0,005 V');
  });
});

describe('which language', () => {
  const page = (out: string) => read(out, join('sessions', 'after', 'index.html')).match(/<html lang="(\w+)"/)?.[1];
  const out = join(work, 'which');
  const build = (...words: string[]) => call('build', folders[1], '--no-pdf', '--out', out, ...words);

  it('a report is made again where another is asked for, and left where it is the same', async () => {
    expect(await build()).toMatchObject({ code: 0 });
    expect(page(out)).toBe('en');
    await build('--language', 'de');
    expect(page(out)).toBe('de');
    expect(read(out, 'index.html')).toContain('<html lang="de">');
    writeFileSync(join(out, 'shop.yaml'), 'language: en\n');
    await build('--language', 'de');
    expect(page(out)).toBe('de');
    // The archive is the shop's, whatever one session was asked for in.
    expect(read(out, 'index.html')).toContain('<html lang="en">');
  });

  it('the session comes before the shop', async () => {
    const file = join(folders[1], 'session.yaml');
    const manifest = readFileSync(file, 'utf8');
    writeFileSync(file, manifest.replace('session:\n', 'session:\n  language: de\n'));
    await build();
    expect(page(out)).toBe('de');
    writeFileSync(file, manifest.replace('session:\n', 'session:\n  language: fr\n'));
    expect(await build()).toMatchObject({ code: 1 });
    expect((await build()).err).toContain('session.language: Found "fr". Expected: de or en.');
    expect((await call('check', folders[1])).err).toContain('session.language: Found "fr".');
    writeFileSync(file, manifest);
  });

  it('one that is not there is told before anything is built', async () => {
    expect(await build('--language', 'fr')).toMatchObject({ code: 2, out: '' });
    expect(await call('index', out, '--language', 'fr')).toMatchObject({ code: 2 });
    writeFileSync(join(out, 'shop.yaml'), 'name: Shop\nlanguage: xx\n');
    const { code, err } = await build();
    expect(code).toBe(1);
    expect(err).toContain('shop.yaml:2:11 language: Found "xx"');
    rmSync(join(out, 'shop.yaml'));
  });

  it('a shop may bring words of its own in any, and those alone', async () => {
    const own = join(out, 'words', 'de');
    await mkdir(own, { recursive: true });
    writeFileSync(join(own, 'labels.yaml'), 'customer: {said: Ihre Worte}\n');
    writeFileSync(join(out, 'shop.yaml'), 'content: words\n');
    await build('--language', 'de');
    const html = read(out, join('sessions', 'after', 'index.html'));
    expect(html).toContain('Ihre Worte');
    expect(html).toContain(loadContent('de').label('customer.found'));
    await build('--language', 'en');
    expect(read(out, join('sessions', 'after', 'index.html'))).not.toContain('Ihre Worte');
  });

  it('init writes it down, and the fitting sheet in it', async () => {
    const folder = join(work, 'new');
    expect(await call('init', folder, '--yes', '--no-pdf', '--language', 'de', '--chemistry', 'lfp')).toMatchObject({
      code: 0,
    });
    expect(read(folder, 'session.yaml')).toMatch(/^ {2}language: de$/m);
    const sheet = read(folder, 'fitting-sheet.html');
    expect(sheet).toContain('<html lang="de">');
    expect(sheet).toContain(loadContent('de').label('chemistry.lfp'));
    expect(await call('init', join(work, 'other'), '--yes', '--no-pdf', '--language', 'fr')).toMatchObject({ code: 2 });
  });
});
