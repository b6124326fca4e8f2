import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parse } from 'yaml';
import { makeWords } from '../../src/charts/words.ts';
import { flatten, loadContent } from '../../src/report/content.ts';

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

describe('charts.yaml', () => {
  const keys = new Set(flatten(parse(loadContent('en').text('charts.yaml'))).keys());
  const folder = join(import.meta.dirname, '../../src/charts');
  const sources = readdirSync(folder).map((file) => readFileSync(join(folder, file), 'utf8'));
  // Keys that are built of parts: of a kind that the analysis knows, or of a chart's name.
  const built = /^(period|fault|sign)\./;
  const titles = sources.flatMap((source) =>
    /say\(`title\.\$\{name\}`\)/.test(source) ? [`title.${/export const name = '([\w-]+)'/.exec(source)?.[1]}`] : [],
  );
  const written = sources.flatMap((source) =>
    [...source.matchAll(/'((?:axis|note|mark|unit)\.[\w-]+)'/g)].map(([, key]) => key),
  );
  const used = new Set([...titles, ...written]);

  test('has every word that a chart asks for', () => {
    expect([...used].filter((key) => !keys.has(key))).toEqual([]);
    expect(used.size).toBeGreaterThan(50);
  });

  test('has none that no chart asks for', () => {
    expect([...keys].filter((key) => !built.test(key) && !used.has(key))).toEqual([]);
  });
});
