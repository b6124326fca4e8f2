/** Templates and prose in Handlebars' own form, for a page that makes no code from text. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Handlebars from 'handlebars';
import { CONTENT, TEMPLATES } from '../node/content.ts';
import { templateFault } from '../report/page/template.ts';
import { PAGE, PROSE } from '../report/words/compile.ts';
import { formName } from '../report/words/form-name.ts';
import { readSections, type Section } from '../report/words/prose.ts';

/** By path in a folder, with `/`. */
export type TextFiles = Readonly<Record<string, string>>;

export function textsBelow(folder: string): TextFiles {
  const texts: Record<string, string> = {};
  for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
    const file = join(folder, name);
    if (statSync(file).isFile())
      texts[name.replaceAll('\\', '/')] = readFileSync(file, 'utf8').replaceAll('\r\n', '\n');
  }
  return texts;
}

/**
 * The text of an object: each form by its kind and the hash of what it was made from.
 *
 * @param shortened the text of an expression, said shorter
 */
export function formsOf(words: TextFiles, templates: TextFiles, shortened = (form: string) => form): string {
  const forms = new Map<string, string>();
  for (const [path, text] of Object.entries(templates)) {
    if (path.endsWith('.hbs')) forms.set(formName('page', text), pageForm(path, text));
  }
  for (const [path, text] of Object.entries(words)) {
    if (!path.endsWith('.md')) continue;
    for (const source of sourcesOf(readSections(path, text)))
      forms.set(formName('prose', source), formOf(source, PROSE));
  }
  return `{${[...forms].map(([name, form]) => `${JSON.stringify(name)}:${shortened(form)}`).join(',\n')}}`;
}

/**
 * Without what costs a quarter of the page's file and is of no use in it: each function brings the same few lines for a runtime
 * older than ours, and each call of a helper says where in the text it stood. Neither can stand in a string, whose marks and line ends have
 * a backslash before them.
 */
function formOf(text: string, how: CompileOptions): string {
  const form = Handlebars.precompile(text, how) as string;
  return form.replaceAll(OLDER_RUNTIME, '$1').replaceAll(PLACE, '');
}

const OLDER_RUNTIME =
  /(lookupProperty = container\.lookupProperty) \|\| function\(parent, propertyName\) \{\n[^}]*\}[^}]*\}/g;
const PLACE = /,"loc":\{"start":\{"line":\d+,"column":\d+\},"end":\{"line":\d+,"column":\d+\}\}/g;

/** Throws a `UserError` with the file and the line of a template that cannot be read. */
function pageForm(path: string, text: string): string {
  try {
    return formOf(text, PAGE);
  } catch (error) {
    throw templateFault(error, [[path, text]]);
  }
}

/** Of the tool's own words and pages; takes a second, so that `npm run compile` does it. */
export const ownForms = (shortened: (form: string) => string) =>
  formsOf(textsBelow(CONTENT), textsBelow(TEMPLATES), shortened);

function sourcesOf({ source, parts }: Section): string[] {
  return [...(source.includes('{{') ? [source] : []), ...parts.flatMap(sourcesOf)];
}
