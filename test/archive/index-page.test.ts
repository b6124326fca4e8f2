import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { writeArchiveIndex } from '../../src/archive/index-page.ts';
import { loadContent } from '../../src/node/content.ts';
import type { Report } from '../../src/report/contract/report.ts';
import { plain, sampleReport, session } from '../report/sample.ts';

let out = '';
beforeEach(() => {
  out = mkdtempSync(join(tmpdir(), 'standstill-archive-'));
});
afterEach(() => rmSync(out, { recursive: true, force: true }));

/** A report's folder bears its id. */
function lay(folder: string, given: string | Report): void {
  const text = typeof given === 'string' ? given : { ...given, session: { ...given.session, id: folder } };
  mkdirSync(join(out, 'sessions', folder), { recursive: true });
  writeFileSync(join(out, 'sessions', folder, 'report.json'), typeof text === 'string' ? text : JSON.stringify(text));
}
const page = () => readFileSync(join(out, 'index.html'), 'utf8');
const later = (id: string, day: string) => {
  const report = sampleReport({ session: { id, title: `Title of ${id}` }, findings: [plain('sleep-time', 'clear')] });
  return { ...report, log: { ...report.log, start: `2026-04-${day}T10:00:00.000Z` } };
};

describe('the archive’s page', () => {
  it('and those of vehicles and checks are the shop’s own where it has some', async () => {
    const own = join(out, 'own');
    mkdirSync(join(own, 'partials'), { recursive: true });
    for (const name of ['archive', 'vehicle', 'check-list'])
      writeFileSync(join(own, `${name}.hbs`), `Our ${name} page`);
    lay('harbour-van-march', sampleReport());
    await writeArchiveIndex(out, { content: loadContent('en', [], [own]) });
    expect(page()).toBe('Our archive page');
    expect(readFileSync(join(out, 'checks.html'), 'utf8')).toBe('Our check-list page');
    const [vehicle] = readdirSync(join(out, 'vehicles'));
    expect(readFileSync(join(out, 'vehicles', vehicle, 'index.html'), 'utf8')).toBe('Our vehicle page');
  });

  it('lists every session, the newest first, with words for what was found', async () => {
    lay('harbour-van-march', sampleReport());
    lay('b', later('b', '01'));
    lay('a', later('a', '02'));
    expect(await writeArchiveIndex(out)).toEqual({ sessions: 3, damaged: [] });
    const links = [...page().matchAll(/href="(sessions[^"]+)"/g)].map((hit) => hit[1]);
    expect(links).toEqual(['sessions/a/index.html', 'sessions/b/index.html', 'sessions/harbour-van-march/index.html']);
    const text = page().replaceAll('\u00a0', ' ');
    for (const word of [
      'HL-20431',
      '171-D-00000',
      'Complaint',
      'Tue 3 Mar 2026',
      'Fault',
      'In order',
      'The vehicle draws 83 mA',
    ]) {
      expect(text).toContain(word);
    }
  });

  it('names damaged reports, and lists the others', async () => {
    lay('whole', sampleReport());
    lay('cut', '{"schema": "standstill-re');
    lay('other', JSON.stringify({ schema: 'standstill-report/9' }));
    mkdirSync(join(out, 'sessions', 'bare'));
    const { sessions, damaged } = await writeArchiveIndex(out);
    expect(sessions).toBe(1);
    expect(damaged.map((one) => one.folder)).toEqual(['bare', 'cut', 'other']);
    expect(damaged[2].message).toMatch(/schema/);
    for (const { folder } of damaged) expect(page()).toContain(`<b>${folder}</b>`);
    expect(page()).not.toContain(out);
  });

  it('leaves alone what a build is still writing', async () => {
    lay('.whole.new-x1', sampleReport());
    expect(await writeArchiveIndex(out)).toEqual({ sessions: 0, damaged: [] });
  });

  it('is there, and says so, where there are no sessions', async () => {
    expect(await writeArchiveIndex(join(out, 'new'))).toEqual({ sessions: 0, damaged: [] });
    expect(readFileSync(join(out, 'new', 'index.html'), 'utf8')).toContain('There are no sessions yet.');
  });

  it('is valid, whole, and inert whatever the reports hold', async () => {
    const evil = '<script>alert(1)</script>"\'';
    lay(
      'evil',
      sampleReport({
        session: {
          title: evil,
          repairOrder: evil,
          vehicle: { ...session.vehicle, description: evil, registration: evil },
        },
      }),
    );
    await writeArchiveIndex(out);
    // Its data, and the one script that its policy vouches for by hash.
    expect(page().match(/<script/g)).toHaveLength(2);
    expect(page()).not.toMatch(/https?:|<script>alert/);
    const { results } = await new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: { 'no-trailing-whitespace': 'off' },
    }).validateString(page());
    expect(
      results.flatMap((result) => result.messages.map((one) => `${one.line} ${one.ruleId}: ${one.message}`)),
    ).toEqual([]);
  });
});
