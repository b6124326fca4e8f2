/** `standstill compare` as a script would call it, on reports that lie in an archive. */
import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { run } from '../../src/cli/run.ts';
import { stored, withFinding } from '../archive/reports.ts';
import { recordingTerminal } from './terminal.ts';

const out = mkdtempSync(join(tmpdir(), 'standstill-compare-'));
afterAll(() => rmSync(out, { recursive: true, force: true }));
beforeAll(() => {
  const draw = (id: string, day: string, mA: number, status: string) =>
    withFinding(stored(id, `2026-03-${day}T00:00:00.000Z`), 'parked-draw', status, {
      value: mA / 1000,
      unit: 'A',
      uncertainty: 0.003,
    });
  for (const report of [draw('van', '03', 62, 'fault'), draw('van-repaired', '20', 18, 'clear')]) {
    const folder = join(out, 'sessions', report.session.id);
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'report.json'), JSON.stringify(report));
  }
});

async function call(...words: string[]) {
  const terminal = recordingTerminal();
  const code = await run(['compare', ...words, '--out', out, '--no-pdf'], terminal);
  return { code, ...terminal.said };
}

describe('standstill compare', () => {
  it('takes ids, and answers with the page it wrote', async () => {
    const { code, out: told, err } = await call('van', 'van-repaired');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const page = join(out, 'comparisons', 'van--van-repaired', 'index.html');
    expect(told).toBe(`${page}\n`);
    const { results } = await new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: { 'no-trailing-whitespace': 'off' },
    }).validateString(readFileSync(page, 'utf8'));
    expect(results.flatMap(({ messages }) => messages.map((one) => `${one.line} ${one.ruleId}`))).toEqual([]);
  });

  it('writes what its contract says, and gives the same to a script', async () => {
    const { out: told } = await call('van', 'van-repaired', '--json');
    const file = join(out, 'comparisons', 'van--van-repaired', 'comparison.json');
    const json = JSON.parse(readFileSync(file, 'utf8'));
    expect(JSON.parse(told)).toEqual(json);
    expect(json).toMatchObject({
      schema: 'standstill-comparison/1',
      before: 'van',
      after: 'van-repaired',
      verdict: 'cured',
      reason: expect.stringMatching(/in order now/),
    });
    expect(json.measures[0]).toMatchObject({
      name: 'sleep-draw',
      unit: 'A',
      before: { value: 0.062, uncertainty: expect.closeTo(0.003, 3) },
      after: { value: 0.018, uncertainty: expect.closeTo(0.003, 3) },
      difference: -0.044,
      difference_uncertainty: expect.closeTo(0.003 * Math.SQRT2, 3),
      verdict: 'cured',
    });
  });

  it('sets several beside the last', async () => {
    const { code, out: told } = await call('van', 'van', 'van-repaired', '--json');
    expect(code).toBe(0);
    expect(JSON.parse(told).map(({ before, after }: Record<string, string>) => [before, after])).toEqual([
      ['van', 'van-repaired'],
      ['van', 'van-repaired'],
    ]);
  });

  it('takes the folder of a report and the report itself', async () => {
    const at = (id: string) => join(out, 'sessions', id);
    expect((await call(at('van'), join(at('van-repaired'), 'report.json'))).code).toBe(0);
  });

  it.each([
    ['no-such', /no-such: there is no such session in .*Expected: /],
    ['../van', /there is no such session/],
  ])('names what it cannot find: %s', async (name, message) => {
    const { code, err } = await call(name, 'van-repaired');
    expect(code).toBe(1);
    expect(err).toMatch(message);
    expect(err).not.toMatch(/ at .*\.ts/);
  });
});
