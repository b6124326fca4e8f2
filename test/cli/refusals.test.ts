/** What the system or a shop's own files refuse is said as what it is, and never called a bug. */
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { hostname, tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { failureText } from '../../src/cli/failure.ts';
import { printerTrouble } from '../../src/cli/lazy-printer.ts';
import { run } from '../../src/cli/run.ts';
import { withData } from '../../src/report/write-report.ts';
import { stored } from '../archive/reports.ts';
import { recordingTerminal } from './terminal.ts';

let work = '';
let out = '';
beforeEach(() => {
  work = mkdtempSync(join(tmpdir(), 'standstill-refusals-'));
  out = join(work, 'out');
  mkdirSync(join(out, 'sessions', 'ann-1'), { recursive: true });
  writeFileSync(
    join(out, 'sessions', 'ann-1', 'report.json'),
    JSON.stringify(stored('ann-1', '2026-03-03T00:00:00.000Z')),
  );
});
afterEach(() => rmSync(work, { recursive: true, force: true }));

async function call(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(words, terminal);
  expect(terminal.said.err).not.toContain('bug');
  return { code, ...terminal.said };
}
/** A file of the shop's own, beside the archive. */
function own(path: string, text: string, shop: string): void {
  mkdirSync(join(out, path, '..'), { recursive: true });
  writeFileSync(join(out, path), text);
  writeFileSync(join(out, 'shop.yaml'), shop);
}

describe('is told with its cause', () => {
  it('an archive that is a file', async () => {
    const file = join(work, 'file');
    writeFileSync(file, '');
    for (const words of [
      ['build', work, '--out', file, '--no-pdf'],
      ['index', file],
      ['tables', '--out', join(file, 'below')],
    ]) {
      const { code, err } = await call(...words);
      expect(code).toBe(1);
      expect(err).toContain('a file is in the way where a folder must be');
    }
  });

  it('an archive that is not there, or is called like a file', async () => {
    const missing = await call('index', join(work, 'nowhere'));
    expect(missing).toMatchObject({ code: 1, err: expect.stringMatching(/^There is no folder .*nowhere/) });
    const named = await call('build', work, '--out', join(work, 'report.pdf'));
    expect(named).toMatchObject({ code: 2, err: expect.stringContaining('it is called like a file') });
  });

  it('a lock that is a folder', async () => {
    mkdirSync(join(out, '.lock'));
    const { code, err } = await call('index', out);
    expect(code).toBe(1);
    expect(err).toMatch(/\.lock This should be one of the program’s own files, and is something else/);
  });

  it('a lock of another process, at once, and for how long', async () => {
    writeFileSync(join(out, '.lock'), JSON.stringify({ pid: process.ppid, host: hostname() }));
    const terminal = recordingTerminal();
    const done = run(['index', out], terminal);
    await expect
      .poll(() => terminal.said.err, { timeout: 10_000 })
      .toContain(`process ${process.ppid} on ${hostname()}`);
    expect(terminal.said.err).toContain('no sign of life for 30 s');
    rmSync(join(out, '.lock'));
    expect(await done).toBe(0);
  });

  it.each([
    ['{{#if', 'templates/archive.hbs:1 This template cannot be read'],
    ['{{> nobody}}', 'templates/archive.hbs This template cannot be filled: The partial nobody'],
    ['{{nobody 1}}', 'templates/archive.hbs This template cannot be filled: Missing helper: "nobody"'],
  ])('a template with a fault: %s', async (text, message) => {
    own('ours/archive.hbs', text, 'templates: ours\n');
    expect(await call('index', out)).toMatchObject({ code: 1, err: expect.stringContaining(message) });
  });

  it('a partial with a fault', async () => {
    own('ours/partials/marks.hbs', '\n\n{{/each}}', 'templates: ours\n');
    const { err } = await call('index', out);
    expect(err).toContain('templates/partials/marks.hbs:3 This template cannot be read');
  });

  it.each([
    ['ours/archiv.hbs', 'templates: ours\n', 'Did you mean archive.hbs?'],
    ['ours/fitting.hbs', 'templates: ours\n', 'stands in for no file of ours'],
    ['words/glossary.md', 'content: words\n', 'stands in for no file of ours'],
    ['words/en/glosary.md', 'content: words\n', 'Did you mean en/glossary.md?'],
  ])('a file of its own that fits nothing: %s', async (path, shop, message) => {
    own(path, 'x', shop);
    const { code, err } = await call('index', out);
    expect(code).toBe(1);
    expect(err).toContain(`"${path.slice(path.indexOf('/') + 1)}"`);
    expect(err).toContain(message);
  });

  it('whatever else the system refuses', () => {
    const refused = Object.assign(new Error('EROFS: read-only file system'), {
      code: 'EROFS',
      syscall: 'mkdir',
      path: '/mnt/card/x',
    });
    expect(failureText(refused)).toBe('/mnt/card/x: The system refuses "mkdir": it may only be read (EROFS).\n');
    expect(failureText(new Error('x'))).toContain('bug');
  });

  it('a PDF that is laid down in another way', () => {
    let bare = 0;
    const pdf = Buffer.from('%PDF-1.7\nof some other make');
    expect(withData(pdf, '{}', 0, () => void bare++)).toBe(pdf);
    expect(bare).toBe(1);
    const printer = {
      refused: null,
      lacks: new Set(['data', 'marks'] as const),
      print: async () => null,
      close: async () => {},
    };
    expect(printerTrouble(printer)).toMatch(
      /^PDFs were written without the marks .* and without report\.json as an attachment: /,
    );
    expect(printerTrouble({ ...printer, lacks: new Set() })).toBe('');
  });
});
