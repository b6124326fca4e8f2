/** The desk's words, in every language. */
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { FIELDS, LISTS } from '../../src/desk/page/form/fields.ts';
import { FORM } from '../../src/desk/page/form/layout.ts';
import { languagesThere, loadContent } from '../../src/node/content.ts';
import { flatten } from '../../src/report/words/content.ts';

const wordsOf = (language: string) => flatten(parse(loadContent(language).text('desk.yaml')));
const english = wordsOf('en');

describe.each(languagesThere())('%s', (language) => {
  const words = wordsOf(language);

  it('has the words that English has, and asks for the same values', () => {
    expect([...words.keys()].sort()).toEqual([...english.keys()].sort());
    const asked = (text = '') => (text.match(/\{\w+\}/g) ?? []).sort();
    for (const [key, text] of words) expect(asked(text), key).toEqual(asked(english.get(key)));
  });

  it('names every key that a manifest may hold', () => {
    const fields = [...FIELDS, ...LISTS.flatMap((list) => list.fields)];
    expect(fields.filter(({ name }) => !words.has(`field.${name}`))).toEqual([]);
    expect(LISTS.filter(({ name }) => !words.has(`add.${name}`) || !words.has(`item.${name}`))).toEqual([]);
    expect(FORM.filter(({ name }) => !words.has(`section.${name}`))).toEqual([]);
  });
});

it('the form asks for every key once', () => {
  const asked = FORM.flatMap(({ fields, lists }) => [...fields, ...lists].map(({ name }) => name));
  expect(asked.sort()).toEqual([...FIELDS, ...LISTS].map(({ name }) => name).sort());
});
