/** Templates compiled for the page, without what it has no use for, say what the whole ones say. */
import Handlebars from 'handlebars';
import { expect, it } from 'vitest';
import { formsOf } from '../../src/cli/desk-forms.ts';
import { formName } from '../../src/report/words/form-name.ts';

const TEXT =
  '{{#each rows}}<p title="\\"loc\\":{}">{{name}} {{t "a" n=2}}{{#if (t "b")}} ü "{{../of}}"{{/if}}</p>\n{{/each}}';

it('a form without places and without lines for older runtimes writes the same', () => {
  const engine = Handlebars.create();
  engine.registerHelper('t', (key: string, { hash }: { hash: { n?: number } }) => `${key}${hash.n ?? ''}`);
  const forms = new Function(`return ${formsOf({}, { 'page.hbs': TEXT })}`)();
  const form = forms[formName('page', TEXT)];
  const facts = { rows: [{ name: 'one' }, { name: '<two>' }], of: 'all' };
  expect(engine.template(form)(facts)).toBe(engine.compile(TEXT)(facts));
  expect(String(form.main)).not.toMatch(/"loc":\{"start"|hasOwnProperty/);
});
