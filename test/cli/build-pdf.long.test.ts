/** PDFs beside a report: printed when they are asked for, later too, to the same bytes. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { browserPath } from '../report/browser-here.ts';
import { laySession, run, stamp } from './parked-session.ts';

const work = mkdtempSync(join(tmpdir(), 'standstill-build-pdf-'));
afterAll(() => rmSync(work, { recursive: true, force: true }));
const folders = [laySession(join(work, 'one'), 'one')];

describe('a report that is whole but for its PDF', () => {
  const pdfOf = (out: string) => join(out, 'sessions', 'one', 'report.pdf');

  it('stays as it is for as long as there is no browser', async () => {
    const out = join(work, 'unprinted');
    const none = { pdf: true, browser: join(work, 'no-browser') };
    expect((await run([folders[0]], out, none)).err).toContain('No PDF was written');
    const made = stamp(out, 'one');
    expect((await run([folders[0]], out, none)).err).toContain('No PDF was written');
    expect(stamp(out, 'one')).toBe(made);
  });

  it.skipIf(!browserPath)('has only that printed, to the same bytes as in one go', { timeout: 60_000 }, async () => {
    const [late, whole] = [join(work, 'unprinted'), join(work, 'printed')];
    const made = stamp(late, 'one');
    expect(await run([folders[0]], late, { pdf: true, browser: browserPath })).toMatchObject({ code: 0, err: '' });
    expect(stamp(late, 'one')).toBe(made);
    await run([folders[0]], whole, { pdf: true, browser: browserPath });
    expect(readFileSync(pdfOf(late)).equals(readFileSync(pdfOf(whole)))).toBe(true);
    const printed = statSync(pdfOf(late)).mtimeMs;
    await run([folders[0]], late, { pdf: true, browser: browserPath });
    expect(statSync(pdfOf(late)).mtimeMs).toBe(printed);
    writeFileSync(pdfOf(late), 'damaged');
    await run([folders[0]], late);
    expect(readFileSync(pdfOf(late), 'utf8')).toBe('damaged');
    await run([folders[0]], late, { pdf: true, browser: browserPath });
    expect(readFileSync(pdfOf(late)).equals(readFileSync(pdfOf(whole)))).toBe(true);
  });
});

describe.skipIf(!browserPath)('the PDFs beside a report', () => {
  it('are printed when they are asked for, and told apart', { timeout: 60_000 }, async () => {
    const out = join(work, 'mailed');
    const folder = join(out, 'sessions', 'one');
    const pdfs = () => readdirSync(folder).filter((name) => name.endsWith('.pdf'));
    const print = { pdf: true, browser: browserPath };
    await run([folders[0]], out, print);
    const [made, whole] = [stamp(out, 'one'), readFileSync(join(folder, 'report.pdf'))];
    expect(pdfs()).toEqual(['report.pdf']);
    await run([folders[0]], out, { ...print, customerPdf: true, pdfName: '{date}_{id}.pdf' });
    expect(stamp(out, 'one')).toBe(made);
    expect(pdfs()).toEqual([
      expect.stringMatching(/^\d{4}-\d\d-\d\d_one\.pdf$/),
      expect.stringMatching(/^\d{4}-\d\d-\d\d_one_customer\.pdf$/),
      'customer.pdf',
      'report.pdf',
    ]);
    expect(readFileSync(join(folder, pdfs()[0])).equals(whole)).toBe(true);
    // The customer's page has one page, and no data goes along.
    const customer = readFileSync(join(folder, 'customer.pdf'), 'latin1');
    expect(customer.match(/\/Type \/Page\b/g)).toHaveLength(1);
    expect(customer).not.toContain('/EmbeddedFile');
    expect(readFileSync(join(folder, 'index.html'), 'utf8')).toContain('<li id="customer-pdf-way">');
  });
});
