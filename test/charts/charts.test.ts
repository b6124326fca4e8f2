import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { pathToFileURL } from 'node:url';
import { Ajv } from 'ajv';
import { beforeAll, describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import type { Analysis } from '../../src/analysis/model.ts';
import { beginDrawing, type Chart, type ChartInput, type Describe } from '../../src/charts/charts.ts';
import { rawSvg } from '../../src/charts/drawing/draw.ts';
import type { Finding } from '../../src/checks/check.ts';
import { loadContent } from '../../src/node/content.ts';
import { flatten } from '../../src/report/words/content.ts';
import { draftCharts } from './drafts.ts';
import { interWidths } from './drawing/woff.ts';
import { ENGLISH } from './english.ts';
import { madeUp } from './made-up.ts';
import { svgOf } from './svg-of.ts';

const require = createRequire(import.meta.url);
const input = () => ({ ...madeUp(), words: ENGLISH });
const byTitle: Describe = ({ title }) => ({ title, desc: title });
async function drawCharts(
  { findings, ...input }: ChartInput & { readonly findings: readonly Finding[] },
  describe = byTitle,
): Promise<(Chart & { readonly svg: string })[]> {
  const drawing = beginDrawing(input, { draw: rawSvg });
  drawing.add(findings, () => true);
  return (await drawing.finish(describe)).map((chart) => ({ ...chart, svg: String(chart.svg) }));
}
let charts: Awaited<ReturnType<typeof drawCharts>>;

beforeAll(async () => {
  charts = await drawCharts(input());
});

const visibleText = (svg: string) => [...svg.matchAll(/<text[^>]*>([^<]*(?:<tspan[^>]*>[^<]*<\/tspan>)*)<\/text>/g)];

describe('the charts of a session', () => {
  test('are all there, each once, with names that are safe in a file and an id', () => {
    expect(charts.map(({ name }) => name)).toEqual([
      'session-overview',
      'parked-draw',
      'sleep-time',
      'wake-ups',
      'stand-time',
      'resting-charge',
      'crank-voltage',
      'battery-resistance',
      'charging',
      'charge-balance',
      'log-coverage',
      'current-direction',
      'portrait-day',
      'portrait-states',
      'portrait-shutdown',
      'portrait-charging',
      'portrait-temperature',
      'limit-parked-draw',
      'limit-sleep-time',
      'limit-stand-time',
      'limit-crank-voltage',
    ]);
    for (const { name } of charts) expect(name).toMatch(/^[a-z][a-z-]*$/);
  });

  test('have specs that hold against the published schema of Vega-Lite', () => {
    const schema = JSON.parse(readFileSync(require.resolve('vega-lite/vega-lite-schema.json'), 'utf8'));
    const ajv = new Ajv({ strict: false, formats: { 'color-hex': true, uri: true, 'uri-reference': true } });
    const isSpec = ajv.compile(schema);
    for (const { name, spec } of charts) {
      const sound = isSpec(JSON.parse(JSON.stringify(spec)));
      expect(sound, `${name}: ${JSON.stringify(isSpec.errors?.at(-1))}`).toBe(true);
    }
    expect(isSpec({ mark: 'no such mark', data: { values: [] } })).toBe(false);
  }, 30_000);

  test('give Vega-Lite and vega nothing to complain about', async () => {
    for (const draft of draftCharts(input())) {
      const heard: string[] = [];
      await svgOf(draft.spec, undefined, (message) => heard.push(message));
      expect(heard, draft.name).toEqual([]);
    }
  });

  test('are all of one width, findings’ axes of another, and what they write stays inside', () => {
    for (const { name, svg } of charts) {
      const width = name.startsWith('limit-') ? 340 : 720;
      expect(svg, name).toContain(`viewBox="0 0 ${width} `);
    }
  });

  test('are light: none over 100 kB, five days under 700 kB together', () => {
    for (const { name, svg } of charts) expect(svg.length, name).toBeLessThan(100_000);
    expect(charts.reduce((sum, { svg }) => sum + svg.length, 0)).toBeLessThan(700_000);
  });

  test('write no smaller than 10 px, in letters that the embedded fonts have', () => {
    const fonts = ['latin', 'greek'].map((subset) => interWidths(subset, 400));
    for (const { name, svg } of charts) {
      for (const [, size] of svg.matchAll(/font-size="([\d.]+)px"/g))
        expect(Number(size), name).toBeGreaterThanOrEqual(10);
      const letters = visibleText(svg).flatMap(([, inner]) => [...inner.replace(/<[^>]*>/g, '').replace(/&\w+;/g, '')]);
      expect(letters.length, name).toBeGreaterThan(0);
      for (const letter of letters) {
        expect(
          fonts.some((font) => font.has(letter.codePointAt(0) as number)),
          `${name}: ${letter}`,
        ).toBe(true);
      }
    }
  });

  test('share no id, hold no script and nothing from outside', () => {
    const ids = charts.flatMap(({ svg }) => [...svg.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id));
    expect(new Set(ids).size).toBe(ids.length);
    for (const { svg } of charts) {
      expect(svg).not.toMatch(/<script|<image|<a |href=|NaN|Infinity|undefined/);
      expect(svg).not.toContain('http');
    }
  });

  test('break their lines at the gap of the log', () => {
    const overview = charts[0];
    const line = /<path d="(M[^"]*)" stroke="#17527f"/.exec(overview.svg);
    expect(line?.[1].match(/M/g)).toHaveLength(2);
  });

  test('are told by the report in its own words', async () => {
    const told = await drawCharts(input(), (draft) => ({ title: `About ${draft.name}`, desc: 'It draws too much.' }));
    expect(told[0].svg).toContain('>About session-overview</title>');
    expect(told[0].svg).toContain('>It draws too much.</desc>');
  });
});

describe('the same input gives the same bytes', () => {
  test('twice in one process', async () => {
    expect((await drawCharts(input())).map(({ svg }) => svg)).toEqual(charts.map(({ svg }) => svg));
  });

  test('in a process that believes to be elsewhere', () => {
    const root = resolve(import.meta.dirname, '../..');
    // Below node_modules, so that the compiled files find their packages.
    const folder = mkdtempSync(join(root, 'node_modules', '.charts-test-'));
    try {
      const settings = {
        extends: join(root, 'tsconfig.json'),
        compilerOptions: { noEmit: false, outDir: folder, rootDir: root, types: [], noCheck: true },
        include: [],
        files: [join(root, 'src/charts/charts.ts'), join(root, 'test/charts/made-up.ts')],
      };
      writeFileSync(join(folder, 'tsconfig.json'), JSON.stringify(settings));
      writeFileSync(join(folder, 'package.json'), '{"type": "module"}');
      const compiler = join(root, 'node_modules', 'typescript', 'bin', 'tsc');
      execFileSync(process.execPath, [compiler, '-p', join(folder, 'tsconfig.json')]);
      const from = (path: string) => JSON.stringify(pathToFileURL(join(folder, path)).href);
      const texts = flatten(parse(loadContent('en').text('charts.yaml')));
      const program = `
        const { rawSvg } = await import(${from('src/charts/drawing/draw.js')});
        const { beginDrawing } = await import(${from('src/charts/charts.js')});
        const { makeWords } = await import(${from('src/charts/drawing/words.js')});
        const { madeUp } = await import(${from('test/charts/made-up.js')});
        const texts = JSON.parse(${JSON.stringify(JSON.stringify([...texts]))});
        const words = makeWords('en-GB', (key) => new Map(texts).get(key));
        const { findings, ...input } = madeUp();
        const drawing = beginDrawing({ ...input, words }, { draw: rawSvg });
        drawing.add(findings, () => true);
        const charts = await drawing.finish(({ title }) => ({ title, desc: title }));
        process.stdout.write(JSON.stringify(charts.map(({ svg, spec }) => [svg, spec])));`;
      const runIn = (zone: string, language: string) =>
        execFileSync(process.execPath, ['--input-type=module', '-e', program], {
          env: { ...process.env, TZ: zone, LANG: language, LC_ALL: language },
          encoding: 'utf8',
          maxBuffer: 1e8,
        });
      const here = JSON.stringify(charts.map(({ svg, spec }) => [svg, spec]));
      expect(runIn('Pacific/Auckland', 'de_DE.UTF-8') === here).toBe(true);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });
});

describe('a log that holds little', () => {
  const empty = (analysis: Analysis): Analysis => ({
    ...analysis,
    has: { current: false, temperature: false, channels: [] },
    noiseA: null,
    temperature: null,
    periods: [
      {
        kind: 'asleep',
        start: analysis.start,
        end: analysis.end,
        chargeInAh: 0,
        chargeOutAh: 0,
        evidence: [],
        certainty: 1,
      },
    ],
    stands: [],
    wakes: [],
    cranks: [],
    drives: [],
    direction: { flipped: false, turned: null, agree: 0, against: 0, evidence: [] },
  });
  const without = (change: (analysis: Analysis) => Analysis) => {
    const { analysis, session } = madeUp();
    return drawCharts({ analysis: change(analysis), session, findings: [], words: ENGLISH });
  };

  test('gives the charts that it can', async () => {
    expect((await without(empty)).map(({ name }) => name)).toEqual([
      'session-overview',
      'log-coverage',
      'portrait-day',
      'portrait-states',
    ]);
  });

  test('with a single tile is still drawn', async () => {
    const first = (analysis: Analysis): Analysis => {
      const { tiles } = analysis;
      const cut = Object.entries(tiles).map(([key, value]) => [
        key,
        value instanceof Float64Array ? value.slice(0, 1) : value,
      ]);
      return { ...empty(analysis), end: tiles.t1[0], tiles: { ...Object.fromEntries(cut), n: 1 } };
    };
    const drawn = await without(first);
    expect(drawn.map(({ name }) => name)).toEqual([
      'session-overview',
      'log-coverage',
      'portrait-day',
      'portrait-states',
    ]);
    expect(drawn[0].svg).toContain('Tue 3 Mar, local time');
  });

  test('with no tile at all gives no chart', async () => {
    const none = (analysis: Analysis): Analysis => ({
      ...empty(analysis),
      end: analysis.start,
      tiles: { ...analysis.tiles, n: 0 },
    });
    expect(await without(none)).toEqual([]);
  });

  test('with readings that are no numbers has none in its pictures', async () => {
    const holes = (analysis: Analysis): Analysis => {
      for (const key of ['i', 'iMin', 'iMax', 'temp'] as const) analysis.tiles[key].fill(Number.NaN, 200, 900);
      return analysis;
    };
    for (const { name, svg } of await without(holes)) expect(svg, name).not.toContain('NaN');
  });
});
