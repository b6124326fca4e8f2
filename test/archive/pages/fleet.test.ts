/** The fleet's page counts a vehicle by its last session, and a vehicle's page draws every figure with its limit. */
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { idsOfPair } from '../../../src/archive/comparison/pairs.ts';
import { writeArchiveIndex } from '../../../src/archive/index-page.ts';
import { restVoltageV } from '../../../src/battery/rest-voltage.ts';
import { changed, stored, withFinding } from '../reports.ts';

const out = mkdtempSync(join(tmpdir(), 'standstill-fleet-'));
afterAll(() => rmSync(out, { recursive: true, force: true }));
const page = (...path: string[]) => readFileSync(join(out, ...path), 'utf8').replaceAll('\u00a0', ' ');

beforeAll(async () => {
  const of = (id: string, day: string, registration: string, drawA: number) => {
    const report = changed(stored(id, `2026-01-${day}T00:00:00.000Z`), (own) => {
      own.session.vehicle.registration = registration;
    });
    const status = drawA > 0.05 ? 'fault' : 'clear';
    const drawn = withFinding(report, 'parked-draw', status, { value: drawA, unit: 'A', uncertainty: 0.002 });
    return withFinding(drawn, 'resting-charge', 'clear', { value: 0.8, unit: '1', uncertainty: 0.05 });
  };
  const limited = (report: ReturnType<typeof of>) =>
    changed(report, (own) => {
      for (const finding of own.findings)
        if (finding.check === 'resting-charge' && finding.limit) finding.limit.value = 0.75;
    });
  for (const report of [
    of('cured-1', '01', 'CURED', 0.09),
    of('cured-2', '08', 'CURED', 0.02),
    of('ill-1', '02', 'ILL', 0.06),
    of('worse-1', '05', 'WORSE', 0.2),
  ].map(limited)) {
    const folder = join(out, 'sessions', report.session.id);
    mkdirSync(folder, { recursive: true });
    writeFileSync(join(folder, 'report.json'), JSON.stringify(report));
  }
  await writeArchiveIndex(out);
});

describe('the fleet', () => {
  const rows = (heading: string) => {
    const table = page('fleet.html').split(`id="${heading}"`)[1].split('</table>')[0];
    return [...table.matchAll(/<tr><th scope="row">(.*?)<\/tr>/gs)].map(([, row]) =>
      row
        .replaceAll(/<[^>]*>/g, ' ')
        .replaceAll(/\s+/g, ' ')
        .trim(),
    );
  };

  it('says how many vehicles have what, and how many sessions ever had it', () => {
    expect(page('fleet.html')).toContain('3 vehicles, 4 sessions.');
    expect(rows('fleet-checks')).toEqual([expect.stringMatching(/ 2 0 3$/)]);
    expect(page('fleet.html')).toContain('href="index.html#checks&#x3D;parked-draw"');
  });

  it('says who waits longest, and who draws most', () => {
    expect(rows('fleet-waiting').map((row) => row.split(' ')[0])).toEqual(['ILL', 'WORSE']);
    expect(rows('fleet-drawing').map((row) => row.split(' ')[0])).toEqual(['WORSE', 'ILL', 'CURED']);
    expect(rows('fleet-drawing')[0]).toMatch(/200 mA ± 2 mA 50 mA Fault$/);
  });

  it.each(['fleet.html', 'months/2026-01.html'])('is valid HTML: %s', async (name) => {
    const { results } = await new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: { 'no-trailing-whitespace': 'off' },
    }).validateString(page(...name.split('/')));
    expect(
      results.flatMap((one) => one.messages.map(({ line, ruleId, message }) => `${line} ${ruleId}: ${message}`)),
    ).toEqual([]);
  });
});

describe('a vehicle’s page', () => {
  it('draws each figure with its limit, the rested voltage’s by the table of its check', () => {
    const folder = readdirSync(join(out, 'vehicles')).find((name) => name.startsWith('cured-')) ?? '';
    const figures = page('vehicles', folder, 'index.html').split('<figure').slice(1);
    const named = figures.map((figure) => [/<b>(.*?)<\/b>/.exec(figure)?.[1], figure.includes('stroke-dasharray')]);
    expect(named).toEqual([
      ['Draw while asleep', true],
      ['Rested voltage', true],
    ]);
    expect(figures[0]).toContain('50 mA');
    expect(figures[1]).toContain(`${Number(restVoltageV('flooded', 12, 0.75).toPrecision(3))} V`);
  });
});

describe('the two ids of a comparison', () => {
  it('are told from the sessions that are there, since ids hold hyphens too', () => {
    const ids = new Set(['a', 'a--b', 'c', 'b--c']);
    expect(idsOfPair('a--c', (id) => ids.has(id))).toEqual(['a', 'c']);
    expect(idsOfPair('a--b--c', (id) => ids.has(id) && id !== 'a')).toEqual(['a--b', 'c']);
    expect(idsOfPair('x--c', (id) => ids.has(id))).toBeNull();
  });
});
