/**
 * What the customer reads is easy to read, each text by the measure of its language:
 * English, reading ease (R. Flesch, "A new readability yardstick", Journal of Applied Psychology 32 (1948) 221–233), at
 * least 60, "plain English". German, the same fitted to German (T. Amstad, "Wie verständlich sind unsere Zeitungen?",
 * Zürich 1978), at least 60, "average". Both formulas and their words for 60 are cited from memory.
 */
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { languagesThere, loadContent } from '../../src/node/content.ts';
import type { Content } from '../../src/report/words/content.ts';
import { readSections, type Section, toText } from '../../src/report/words/prose.ts';

interface Measure {
  /** Of one word; right for nine in ten, which is enough for a mean. */
  readonly syllables: (word: string) => number;
  readonly ease: (wordsPerSentence: number, syllablesPerWord: number) => number;
  readonly least: number;
  /** A short word that stands where a value does. */
  readonly value: string;
}

/** Groups of vowels, without a silent e; at least one. */
const english = (word: string) => {
  const bare = word.toLowerCase().replaceAll(/[^a-z]/g, '');
  const spoken = bare.replace(/(?:[^laeiouy]e|[^aeiouytd]ed|[^aeiouysxzh]es)$/, (end) => end[0]);
  return Math.max(1, spoken.match(/[aeiouy]+/g)?.length ?? 1);
};

/** Vowels, each a syllable but for diphthongs, doubled ones, a long i, and the u of qu. */
const german = (word: string) => {
  const spoken = word.toLowerCase().replaceAll('qu', 'q');
  return Math.max(1, spoken.match(/au|äu|ei|eu|ai|ie(?!n$)|aa|ee|oo|[aeiouyäöü]/g)?.length ?? 1);
};

const MEASURES: Readonly<Record<string, Measure>> = {
  en: {
    syllables: english,
    ease: (words, syllables) => 206.835 - 1.015 * words - 84.6 * syllables,
    least: 60,
    value: 'ten',
  },
  de: { syllables: german, ease: (words, syllables) => 180 - words - 58.5 * syllables, least: 60, value: 'zehn' },
};

function easeOf(text: string, { syllables, ease }: Measure): number {
  const sentences = text.split(/[.!?:]+(?:\s|$)|\n+/).filter((sentence) => /\p{L}/u.test(sentence));
  const words = text.match(/\p{L}[\p{L}'’-]*/gu) ?? [];
  const all = words.reduce((sum, word) => sum + syllables(word), 0);
  return ease(words.length / sentences.length, all / words.length);
}

/** The text as a customer sees it: of two ways to say it the first, and a short word where a value stands. */
function spoken(source: string, { value }: Measure): string {
  const chosen = source.replaceAll(/\{\{else\}\}[\s\S]*?(?=\{\{\/)/g, '').replaceAll(/\{\{[#/][^}]*\}\}/g, '');
  return toText(chosen.replaceAll(/\{\{[^}]*\}\}/g, value));
}

const together = ({ parts }: Section, measure: Measure) => parts.map((one) => spoken(one.source, measure)).join('\n');

type Named = [where: string, text: string];

function textsOf(content: Content, measure: Measure): Named[] {
  const folder = fileURLToPath(new URL(`../../content/${content.language}/checks`, import.meta.url));
  const partsOf = (file: string) => readSections(file, content.text(file)).parts;
  const checks = readdirSync(folder).flatMap((name) =>
    partsOf(`checks/${name}`).flatMap((section: Section) =>
      section.parts
        .filter((one) => one.name === 'plain')
        .map((one): Named => [`checks/${name}, ${section.name}`, spoken(one.source, measure)]),
    ),
  );
  const all = readdirSync(folder).flatMap((name) => partsOf(`checks/${name}`).map((section) => ({ name, section })));
  const firstPage = all
    .filter(({ section }) => section.name.startsWith('first page'))
    .map(({ name, section }): Named => [`checks/${name}, ${section.name}`, together(section, measure)]);
  const few = all.filter(({ section }) => section.name === 'in a few words');
  const inFewWords = ['question', 'follows'].map((name): Named => {
    const parts = few.flatMap(({ section }) => section.parts.filter((one) => one.name === name));
    return [`in a few words, ${name}`, parts.map((one) => spoken(one.source, measure)).join('\n')];
  });
  // A situation's parts together: one sentence alone is too short to be measured.
  const summary = partsOf('summary.md').map(
    (section): Named => [`summary.md, ${section.name}`, together(section, measure)],
  );
  return [...checks, ...firstPage, ...inFewWords, ...summary];
}

describe('the measure', () => {
  it.each([
    ['cat', 1],
    ['drive', 1],
    ['battery', 3],
    ['vehicle', 3],
    ['charged', 1],
    ['started', 2],
    ['wakes', 1],
    ['little', 2],
  ])('%s has %i syllables', (word, count) => expect(english(word)).toBe(count));
  it.each([
    ['Strom', 1],
    ['Auto', 2],
    ['Batterie', 3],
    ['Fahrzeug', 2],
    ['geladen', 3],
    ['Steuergerät', 4],
    ['übliche', 3],
    ['Situation', 5],
    ['Quelle', 2],
    ['Linien', 3],
    ['See', 1],
    ['Theater', 3],
  ])('%s hat %i Silben', (word, count) => expect(german(word)).toBe(count));
  it('tells easy from hard', () => {
    expect(easeOf('The cat sat on the mat.', MEASURES.en)).toBeGreaterThan(100);
    expect(
      easeOf('Parasitic consumption necessitates supplementary investigation of auxiliary circuitry.', MEASURES.en),
    ).toBeLessThan(0);
    expect(easeOf('Die Katze saß auf der Matte.', MEASURES.de)).toBeGreaterThan(80);
    expect(easeOf('Ruhestromaufnahmen erfordern weiterführende Untersuchungen.', MEASURES.de)).toBeLessThan(0);
  });
});

describe.each(languagesThere())('what the customer reads in %s', (language) => {
  const measure = MEASURES[language];
  it('has a measure', () => expect(measure).toBeDefined());
  const texts = measure ? textsOf(loadContent(language), measure) : [];
  it('is there to be measured', () => expect(texts.length).toBeGreaterThan(60));
  it.each(texts)('%s', (_where, text) => expect(easeOf(text, measure), text).toBeGreaterThanOrEqual(measure.least));
});
