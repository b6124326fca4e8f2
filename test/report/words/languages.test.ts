/** Every language says the same as English: file by file, heading by heading, with the same facts in the same form. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import Handlebars from 'handlebars';
import { describe, expect, it, test } from 'vitest';
import { parse } from 'yaml';
import { chargingWindowV } from '../../../src/battery/charging.ts';
import { CHEMISTRIES } from '../../../src/battery/chemistry.ts';
import { CHECKS } from '../../../src/checks/registry.ts';
import { CONTENT, languagesThere, loadContent } from '../../../src/node/content.ts';
import { flatten } from '../../../src/report/words/content.ts';
import { chooseLanguage, languageFault, type Wishes } from '../../../src/report/words/languages.ts';
import { readSections, readSteps, type Section } from '../../../src/report/words/prose.ts';

const filesOf = (language: string) =>
  readdirSync(join(CONTENT, language), { recursive: true, encoding: 'utf8' })
    .map((name) => name.replaceAll('\\', '/'))
    .filter((name) => /\.\w+$/.test(name))
    .sort();
const textOf = (language: string, file: string) => readFileSync(join(CONTENT, language, file), 'utf8');
const valuesOf = (language: string, file: string) => flatten(parse(textOf(language, file)));
const placeholders = (text: string) => [...text.matchAll(/\{\w+\}/g)].map(([name]) => name).sort();

/** Says in another language what the program forms in English, so English has none. */
const PHRASES = ['messages.yaml', 'phrases.yaml'];
/** Files whose `##` headings are read by people, and so are free; their number is not. */
const READ: readonly string[] = ['glossary.md', 'method.md'];

/** Headings below the title, as code looks for them: `## step: Before` is a step, whatever it is called. */
function headings(file: string, section: Section): unknown {
  return section.parts.map((one, k) => [
    READ.includes(file) ? k : one.name.replace(/^step: .*/, 'step:'),
    headings(file, one),
  ]);
}

/** Each section with its path of headings, in the order of the file. */
function sectionsOf(section: Section, path = ''): { readonly path: string; readonly source: string }[] {
  return [
    { path, source: section.source },
    ...section.parts.flatMap((one, k) => sectionsOf(one, `${path}/${/^[a-z]/.test(one.name) ? one.name : k}`)),
  ];
}

/** What a section takes: `mA drawA drawUA`, `#if several`; words within an expression are the language's own. */
function takes(source: string): string[] {
  const found = new Set<string>();
  const walk = (node: hbs.AST.Node): void => {
    if (node.type === 'Program') for (const one of (node as hbs.AST.Program).body) walk(one);
    if (node.type !== 'MustacheStatement' && node.type !== 'BlockStatement') return;
    const { path, params } = node as hbs.AST.MustacheStatement;
    const words = params.map((param) =>
      param.type === 'PathExpression' ? (param as hbs.AST.PathExpression).original : '…',
    );
    const name = (path as hbs.AST.PathExpression).original;
    found.add([node.type === 'BlockStatement' ? `#${name}` : name, ...words].join(' '));
    const { program, inverse } = node as hbs.AST.BlockStatement;
    if (program) walk(program);
    if (inverse) walk(inverse);
  };
  walk(Handlebars.parse(source));
  return [...found].sort();
}

/** What `src/log/` tells of a log in words, as its source has it, with a `1` for whatever it fills in. */
function readerWords(): ['understood' | 'found', string][] {
  const folder = join(import.meta.dirname, '../../../src/log');
  const source = readdirSync(folder, { recursive: true, encoding: 'utf8' })
    .filter((name) => name.endsWith('.ts'))
    .map((name) => readFileSync(join(folder, name), 'utf8'))
    .join('\n');
  const all = (form: RegExp) => new Set([...source.matchAll(form)].map(([, text]) => text));
  const filledIn = (text: string) =>
    text.replace(/\$\{other\}/, 'voltage').replaceAll(/\$\{(?:[^{}]|\{[^{}]*\})*\}/g, '1');
  const found = [
    ...all(/(?:leaveOut|tellClock)\(.*'([^']+)'\)/g),
    ...all(/'((?:the gz|the) file [^']+)'/g),
    ...[...all(/(?:found|damage)(?: \?\?)? = `([^`T][^`]*)`/g)].map(filledIn),
  ];
  // A column's name and its reading alone are no words.
  const inWords = found.filter((text) => (text.match(/\b[a-z]{2,}\b/g) ?? []).length > 1);
  return [
    ...[...all(/what: '([^']+)'/g)].map((text): ['understood', string] => ['understood', text]),
    ...inWords.map((text): ['found', string] => ['found', text]),
  ];
}

const others = languagesThere().filter((language) => language !== 'en');

test('there is another language', () => expect(others).toContain('de'));

describe.each(others)('%s', (language) => {
  const files = filesOf('en');
  const prose = files.filter((name) => name.endsWith('.md'));
  const labels = files.filter((name) => name.endsWith('.yaml'));

  it('has the files that English has, and phrases', () => {
    expect(filesOf(language)).toEqual([...files, ...PHRASES].sort());
  });

  it.each(labels)('%s: the same keys, and the same left open', (file) => {
    const [english, own] = [valuesOf('en', file), valuesOf(language, file)];
    expect([...own.keys()]).toEqual([...english.keys()]);
    for (const [key, text] of own) expect(placeholders(text), key).toEqual(placeholders(english.get(key) as string));
  });

  it.each(prose)('%s: the same headings, and in each the same facts', (file) => {
    const [english, own] = ['en', language].map((one) => readSections(file, textOf(one, file)));
    expect(headings(file, own)).toEqual(headings(file, english));
    const [from, to] = [sectionsOf(english), sectionsOf(own)];
    for (const [k, { path, source }] of to.entries()) {
      expect({ path, takes: takes(source) }).toEqual({ path, takes: takes(from[k].source) });
    }
  });

  it.each(prose)('%s: the same steps in the same order', (file) => {
    const stages = (one: string) =>
      sectionsOf(readSections(file, textOf(one, file)))
        .filter(({ path }) => path.endsWith('/next steps'))
        .map(({ path, source }) => [path, readSteps(file, source).map(({ stage }) => stage)]);
    expect(stages(language)).toEqual(stages('en'));
  });

  it('asks on the fitting sheet for what English asks for', () => {
    const asked = (one: string) =>
      sectionsOf(readSections('fitting-sheet.md', textOf(one, 'fitting-sheet.md')))
        .slice(1)
        .flatMap(({ source }) => [...source.matchAll(/\{[^{}|]*\|([^{}|]*)\|([^{}|]*)\}/g)])
        .map(([, unit, name]) => ({ name: name.trim(), hasUnit: unit.trim() !== '' }));
    expect(asked('en').length).toBeGreaterThan(10);
    expect(asked(language)).toEqual(asked('en'));
  });

  it('calls a period and a fault on the charts by name as in the tables', () => {
    const keys = (file: string, group: string) =>
      [...valuesOf(language, file).keys()].filter((key) => key.startsWith(`${group}.`)).sort();
    for (const group of ['period', 'fault']) expect(keys('charts.yaml', group)).toEqual(keys('labels.yaml', group));
  });

  const { phrase } = loadContent(language);
  const limits = CHECKS.flatMap((check) => check.limits);
  const windows = CHEMISTRIES.flatMap((chemistry) =>
    [20, null].flatMap((temperatureC) => {
      const { minSource, usualSource, mostSource } = chargingWindowV({ chemistry, systemV: 12, temperatureC });
      return [minSource, usualSource, mostSource];
    }),
  );
  const known = valuesOf(language, 'phrases.yaml');

  it.each([...new Set([...limits.map(({ source }) => source), ...windows])])(
    'says where a limit is from: %s',
    (source) => expect(known.has(`source.${source}`)).toBe(true),
  );
  it.each([...new Set(limits.flatMap(({ applies }) => applies ?? []))])('says what a limit applies to: %s', (applies) =>
    expect(known.has(`applies.${applies}`)).toBe(true),
  );

  it.each(readerWords())('says what the reader of logs says: %s: %s', (kind, english) =>
    expect(phrase(kind, english)).not.toBe(english),
  );

  it('leaves in English what is no phrase, and passes on what a phrase leaves open', () => {
    expect(phrase('source', 'Our own line 3')).toBe('Our own line 3');
    expect(phrase('understood', 'line 3')).not.toBe('line 3');
    expect(phrase('understood', 'line 3')).toContain('3');
    expect(phrase('found', 'no time: "comma"')).toMatch(/^(?!no time).*"comma"$/);
  });
});

describe('the language of a report', () => {
  const shop = { language: 'de' };
  const choose = (wishes: Omit<Wishes, 'there'>) => chooseLanguage({ ...wishes, there: languagesThere() });
  const session = { language: 'en', languageAt: { line: 9, column: 13 } };

  it('is what the call asks for, else the session, else the shop, else English', () => {
    expect(choose({ asked: 'de', session, shop: null })).toBe('de');
    expect(choose({ session, shop })).toBe('en');
    expect(choose({ session: {}, shop })).toBe('de');
    expect(choose({})).toBe('en');
  });

  it('must be one that there are words in', () => {
    expect(languageFault('de', languagesThere())).toBeUndefined();
    expect(languageFault('dee', languagesThere())).toBe('Found "dee". Did you mean de? Expected: de or en.');
    expect(() => choose({ session: { ...session, language: 'fr' } })).toThrow(
      'session.yaml:9:13 session.language: Found "fr". Expected: de or en.',
    );
    expect(() => choose({ asked: 'fr' })).toThrow('--language: Found "fr".');
  });
});
