/**
 * What the customer reads is easy to read: Flesch's reading ease (R. Flesch, "A new readability yardstick", Journal of Applied
 * Psychology 32 (1948) 221–233) of at least 60, "plain English", for each text. The formula is cited from memory.
 */
import { readdirSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { loadContent } from '../../src/report/content.ts';
import { readSections, type Section, toText } from '../../src/report/prose.ts';

const EASE = 60;
const content = loadContent('en');

/** Vowel groups, without a silent e; at least one. Right for nine words in ten, which is enough for a mean. */
function syllables(word: string): number {
  const bare = word.toLowerCase().replaceAll(/[^a-z]/g, '');
  const groups = bare.replace(/(?:[^laeiouy]e|[^aeiouytd]ed|[^aeiouysxzh]es)$/, (end) => end[0]).match(/[aeiouy]+/g);
  return Math.max(1, groups?.length ?? 1);
}

function ease(text: string): number {
  const sentences = text.split(/[.!?:]+(?:\s|$)|\n+/).filter((sentence) => /[a-z]/i.test(sentence));
  const words = text.match(/[A-Za-z][A-Za-z'’-]*/g) ?? [];
  const all = words.reduce((sum, word) => sum + syllables(word), 0);
  return 206.835 - (1.015 * words.length) / sentences.length - (84.6 * all) / words.length;
}

/** The text as a customer sees it: of two ways to say it the first, and a short word where a value stands. */
const spoken = (source: string) => {
  const chosen = source.replaceAll(/\{\{else\}\}[\s\S]*?(?=\{\{\/)/g, '').replaceAll(/\{\{[#/][^}]*\}\}/g, '');
  return toText(chosen.replaceAll(/\{\{[^}]*\}\}/g, 'ten'));
};

const plainOf = (file: string): [string, string][] =>
  readSections(file, content.text(file)).parts.flatMap((section) =>
    section.parts
      .filter((one) => one.name === 'plain')
      .map((one): [string, string] => [`${file}, ${section.name}`, spoken(one.source)]),
  );

const checks = readdirSync(fileURLToPath(new URL('../../content/en/checks', import.meta.url)))
  .filter((name) => name.endsWith('.md'))
  .flatMap((name) => plainOf(`checks/${name}`));

/** A situation's parts together: one sentence alone is too short to be measured. */
const summary = readSections('summary.md', content.text('summary.md')).parts.map(
  (section: Section): [string, string] => [
    `summary.md, ${section.name}`,
    section.parts.map((one) => spoken(one.source)).join('\n'),
  ],
);

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
  ])('%s has %i syllables', (word, count) => expect(syllables(word)).toBe(count));
  it('tells easy from hard', () => {
    expect(ease('The cat sat on the mat.')).toBeGreaterThan(100);
    expect(
      ease('Parasitic consumption necessitates supplementary investigation of auxiliary electrical circuitry.'),
    ).toBeLessThan(0);
  });
});

describe('what the customer reads', () => {
  it('is there to be measured', () => expect(checks.length).toBeGreaterThan(60));
  it.each(checks)('%s', (_where, text) => expect(ease(text), text).toBeGreaterThanOrEqual(EASE));
  it.each(summary)('%s', (_where, text) => expect(ease(text), text).toBeGreaterThanOrEqual(EASE));
});
