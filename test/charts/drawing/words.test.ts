import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { textWidthPx } from '../../../src/charts/drawing/font-widths.ts';
import { CONFIG, LEFT, PLOT, RIGHT, TEXT_PX, TITLE_PX } from '../../../src/charts/drawing/theme.ts';
import { makeWords } from '../../../src/charts/drawing/words.ts';
import type { Session } from '../../../src/manifest/session.ts';
import { languagesThere, loadContent } from '../../../src/node/content.ts';
import { flatten } from '../../../src/report/words/content.ts';
import { draftCharts } from '../drafts.ts';
import { madeUp } from '../made-up.ts';

const texts: Readonly<Record<string, string>> = { plain: 'limit', filled: '{shown} of {all} cranks' };
const speak = (locale: string) => makeWords(locale, (key) => texts[key]);

describe('words of the charts', () => {
  test('are filled in', () => {
    expect(speak('en-GB').say('filled', { shown: 10, all: 31 })).toBe('10 of 31 cranks');
    expect(speak('en-GB').say('plain')).toBe('limit');
  });

  test('that ask for what is not given are a fault of ours', () => {
    expect(() => speak('en-GB').say('filled', { shown: 10 })).toThrow('{all}, which is not given');
  });

  test.each([
    ['en-GB', '.', 'Tue 3 Mar'],
    ['de-DE', ',', 'Di. 3. März'],
  ])('numbers and days by locale: %s', (locale, mark, day) => {
    const { decimalMark, day: dayOf } = speak(locale);
    expect(decimalMark).toBe(mark);
    expect(dayOf(Date.UTC(2026, 2, 3, 23, 59))).toBe(day);
  });
});

describe.each(languagesThere())('in %s', (language) => {
  const { words } = loadContent(language);
  const { analysis, session, findings } = madeUp();
  const flooded: Session = { ...session, battery: { ...session.battery, chemistry: 'flooded' } };
  const drafts = draftCharts({ analysis, session: flooded, findings, words });
  const panels = drafts.flatMap(({ name, spec }) =>
    ((spec.vconcat ?? [spec]) as { layer: Layer[] }[]).map((panel) => ({ name, heads: panel.layer.flatMap(headOf) })),
  );
  const all = (group: string) =>
    [...flatten(parse(loadContent(language).text('charts.yaml')))]
      .filter(([key]) => key.startsWith(`${group}.`))
      .map(([, text]) => text);

  test('a heading and its note have room beside each other', () => {
    expect(panels.filter(({ heads }) => heads.length === 2).length).toBeGreaterThan(8);
    for (const { name, heads } of panels) {
      const px = heads.reduce(
        (sum, { text, isHeading }) => sum + (isHeading ? textWidthPx(text, TITLE_PX, 600) : textWidthPx(text, TEXT_PX)),
        0,
      );
      expect(px, `${name}: ${heads.map(({ text }) => text).join(' | ')}`).toBeLessThan(LEFT + PLOT + RIGHT - 8);
    }
  });

  test.each(['period', 'event', 'fault', 'sign'])('the names of lanes have room: %s', (group) => {
    // A letter's own margin may stand out by a pixel.
    const room = LEFT - CONFIG.axis.labelPadding + 1;
    for (const text of all(group)) expect(textWidthPx(text, TEXT_PX), text).toBeLessThan(room);
  });
});

interface Layer {
  readonly data?: { readonly values: readonly { readonly text?: string }[] };
  readonly encoding?: { readonly x?: { readonly value?: number }; readonly y?: { readonly value?: number } };
}

/** What stands above a plot: its heading at the left, how to read it at the right. */
function headOf({ data, encoding }: Layer) {
  const text = data?.values[0]?.text;
  return text !== undefined && encoding?.y?.value === -15 ? [{ text, isHeading: encoding.x?.value === -LEFT }] : [];
}

describe('charts.yaml', () => {
  const keys = new Set(flatten(parse(loadContent('en').text('charts.yaml'))).keys());
  // The picture of a model is drawn of a finished report.
  const folders = ['charts', 'report/model'].map((room) => join(import.meta.dirname, '../../../src', room));
  const sources = folders.flatMap((folder) =>
    readdirSync(folder, { recursive: true, encoding: 'utf8' })
      .filter((file) => file.endsWith('.ts'))
      .map((file) => readFileSync(join(folder, file), 'utf8')),
  );
  // Keys that are built of parts: of a kind that the analysis knows, or of a chart's name.
  const built = /^(period|event|fault|sign)\./;
  const named = sources.flatMap((source) =>
    [...source.matchAll(/say\(`(title|note)\.\$\{name\}`/g)].map(
      ([, kind]) => `${kind}.${/export const name = '([\w-]+)'/.exec(source)?.[1]}`,
    ),
  );
  const written = sources.flatMap((source) =>
    [...source.matchAll(/'((?:axis|note|mark|unit|title)\.[\w-]+)'/g)].map(([, key]) => key),
  );
  const used = new Set([...named, ...written]);

  test('has every word that a chart asks for', () => {
    expect([...used].filter((key) => !keys.has(key))).toEqual([]);
    expect(used.size).toBeGreaterThan(50);
  });

  test('has none that no chart asks for', () => {
    expect([...keys].filter((key) => !built.test(key) && !used.has(key))).toEqual([]);
  });
});
