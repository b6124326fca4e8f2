/** What an index costs follows the sessions that changed: the others are neither parsed nor are their pages written again. */
import {
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { writeArchiveIndex } from '../../../src/archive/index-page.ts';
import type { StoredReport } from '../../../src/archive/stored-report.ts';
import { readSummaries } from '../../../src/archive/summary/store.ts';
import { changed, stored, withFinding } from '../reports.ts';

const root = mkdtempSync(join(tmpdir(), 'standstill-summaries-'));
afterAll(() => rmSync(root, { recursive: true, force: true }));
let out = '';
let count = 0;
beforeEach(() => {
  out = join(root, String(count++));
});

const path = (id: string) => join(out, 'sessions', id, 'report.json');
function lay(report: StoredReport): void {
  mkdirSync(join(out, 'sessions', report.session.id), { recursive: true });
  writeFileSync(path(report.session.id), JSON.stringify(report));
}
const of = (id: string, day: string, registration: string) =>
  changed(stored(id, `2026-${day}T10:00:00.000Z`), (own) => {
    own.session.vehicle.registration = registration;
    own.session.title = `Title of ${id}`;
  });
const index = (key = 'one') => writeArchiveIndex(out, { key });

/** Every page with its bytes and the time when it was written. */
function pages(): Map<string, string> {
  const files = readdirSync(out, { recursive: true, encoding: 'utf8' }).filter((name) => name.endsWith('.html'));
  return new Map(
    files.sort().map((name) => [name, `${statSync(join(out, name)).mtimeMs} ${readFileSync(join(out, name), 'utf8')}`]),
  );
}
const differ = (before: Map<string, string>, after: Map<string, string>) =>
  [...after].filter(([name, text]) => before.get(name) !== text).map(([name]) => name.replace(/-\w{8}\//, '/'));

describe('an index made again', () => {
  it('writes nothing where nothing changed, and only the pages of what did', async () => {
    lay(of('a', '01-03', 'A 1'));
    lay(of('b', '02-03', 'B 1'));
    await index();
    const first = pages();
    await index();
    expect(differ(first, pages())).toEqual([]);
    lay(of('c', '02-04', 'B 1'));
    await index();
    expect(differ(first, pages())).toEqual([
      'fleet.html',
      'index.html',
      'months/2026-02.html',
      'vehicles/b1/index.html',
    ]);
  });

  it('gives the same bytes as one made at once', async () => {
    lay(of('a', '01-03', 'A 1'));
    await index();
    lay(withFinding(of('b', '02-03', 'A 1'), 'parked-draw', 'fault', { value: 0.09, unit: 'A', uncertainty: 0.002 }));
    await index();
    const texts = () => [...pages()].map(([name, text]) => [name, text.replace(/^\S+ /, '')]);
    const stepwise = texts();
    rmSync(join(out, '.summaries'), { recursive: true });
    await writeArchiveIndex(out);
    expect(texts()).toEqual(stepwise);
  });

  it('sees a report that was replaced, taken away or put there', async () => {
    lay(of('a', '01-03', 'A 1'));
    lay(of('b', '02-03', 'B 1'));
    await index();
    lay(
      changed(of('a', '01-03', 'A 1'), (own) => {
        own.session.title = 'Another title, as long';
      }),
    );
    rmSync(join(out, 'sessions', 'b'), { recursive: true });
    expect((await index()).sessions).toBe(1);
    const page = readFileSync(join(out, 'index.html'), 'utf8');
    expect(page).toContain('Another title, as long');
    expect(page).not.toContain('Title of b');
    expect([...pages().keys()].filter((name) => /b1|2026-02/.test(name))).toEqual([]);
  });

  it('does not parse a report again that was copied as it is', async () => {
    lay(of('a', '01-03', 'A 1'));
    const [made] = (await readSummaries(out, 'one')).entries;
    utimesSync(path('a'), 1, 1);
    const [again] = (await readSummaries(out, 'one')).entries;
    expect(again).toEqual({ ...made, stamp: again.stamp });
    expect(again.stamp).not.toEqual(made.stamp);
  });

  it('writes a page that was lost, and all of them with other words', async () => {
    lay(of('a', '01-03', 'A 1'));
    await index();
    rmSync(join(out, 'fleet.html'));
    rmSync(join(out, 'vehicles'), { recursive: true });
    await index();
    expect([...pages().keys()]).toEqual(expect.arrayContaining(['fleet.html', expect.stringMatching(/^vehicles/)]));
    const first = pages();
    await index('another');
    expect(differ(first, pages())).toHaveLength(first.size);
  });

  it.each(['', '[]', '[{"folder": "a"}]', '{', '[null]'])(
    'does without a store that is not its own: %s',
    async (body) => {
      lay(of('a', '01-03', 'A 1'));
      await index();
      const good = readFileSync(join(out, 'index.html'), 'utf8');
      for (const name of readdirSync(join(out, '.summaries'))) {
        const text = readFileSync(join(out, '.summaries', name), 'utf8');
        writeFileSync(
          join(out, '.summaries', name),
          name === 'pages.json' ? body : text.slice(0, text.indexOf('\n') + 1) + body,
        );
      }
      expect(await index()).toEqual({ sessions: 1, damaged: [] });
      expect(readFileSync(join(out, 'index.html'), 'utf8')).toBe(good);
    },
  );
});
