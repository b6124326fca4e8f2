/**
 * Prose, labels and templates as files: `content/<language>/…` and `templates/…`. Folders are asked in order, so that a
 * shop's own file stands in for one of ours; of a YAML file each word does so alone.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { UserError } from '../../base/problem.ts';
import { PROJECT } from '../../base/project.ts';
import { makeWords, type Words } from '../../charts/drawing/words.ts';
import { CHECKS } from '../../checks/registry.ts';
import { makePhrase, type Phrase } from './phrases.ts';

export interface Content {
  readonly language: string;
  /** BCP 47 tag for numbers and dates, from the labels. */
  readonly locale: string;
  /** Text of `content/<language>/<path>`; a `UserError` where no folder has it. */
  text(path: string): string;
  /** A label by its dotted key; a `UserError` where the labels lack it. */
  label(key: string): string;
  /** Text of `templates/<path>`: pages, partials, styles and scripts, which are the same in every language. */
  template(path: string): string;
  /** Words of the charts. */
  readonly words: Words;
  /** Says what the program formed in English. */
  readonly phrase: Phrase;
}

const ours = (name: string): string => fileURLToPath(new URL(name, PROJECT));

/** Our own folder of languages, and the file that makes a folder in it one. */
export const CONTENT = ours('content');
export const LABELS = 'labels.yaml';

/**
 * Throws a `UserError` that names the files where the language lacks the prose of a check.
 *
 * @param overrides folders that are asked before ours; each holds `<language>/…` as `content/` does
 * @param templates the same for what `templates/` holds
 */
export function loadContent(
  language: string,
  overrides: readonly string[] = [],
  templates: readonly string[] = [],
): Content {
  const folders = [...overrides, CONTENT].map((folder) => join(folder, language));
  const allOf = (path: string) => folders.map((folder) => join(folder, path)).filter((file) => existsSync(file));
  const read = (file: string) => readFileSync(file, 'utf8').replaceAll('\r\n', '\n');
  const text = (path: string): string => {
    const [file] = allOf(path);
    if (!file) throw new UserError([missing(language, path)]);
    return read(file);
  };
  const lacking = CHECKS.map(({ id }) => `checks/${id}.md`).filter((path) => allOf(path).length === 0);
  if (lacking.length > 0) throw new UserError(lacking.map((path) => missing(language, path)));
  const template = (path: string): string => {
    const file = [...templates, ours('templates')].map((folder) => join(folder, path)).find((name) => existsSync(name));
    if (!file) throw new UserError(`templates/${path} is missing.`);
    return read(file);
  };
  const valuesOf = (path: string) =>
    new Map(
      allOf(path)
        .reverse()
        .flatMap((file) => [...wordsIn(file, read(file))]),
    );
  const keyed = (path: string) => {
    const values = valuesOf(path);
    return (key: string): string => {
      const found = values.get(key);
      if (found === undefined)
        throw new UserError([{ file: `content/${language}/${path}`, path: key, message: 'this label is missing.' }]);
      return found;
    };
  };
  const label = keyed(LABELS);
  const locale = localeOf(label('locale'), language);
  const words = makeWords(locale, keyed('charts.yaml'));
  const phrase = makePhrase(valuesOf('phrases.yaml'));
  return { language, locale, text, label, template, words, phrase };
}

const missing = (language: string, path: string) => ({
  file: `content/${language}/${path}`,
  message: 'is missing: each language needs every file that content/en has.',
});

function localeOf(tag: string, language: string): string {
  try {
    return Intl.getCanonicalLocales(tag)[0] ?? language;
  } catch {
    const message = `Found "${tag}". Taken: a tag such as en-GB.`;
    throw new UserError([{ file: `content/${language}/${LABELS}`, path: 'locale', message }]);
  }
}

/** By their dotted keys. One build asks for the same files several times. */
function wordsIn(file: string, text: string): ReadonlyMap<string, string> {
  const known = wordsOf.get(text);
  if (known) return known;
  const words = flatten(parseFile(file, text));
  wordsOf.set(text, words);
  return words;
}

const wordsOf = new Map<string, ReadonlyMap<string, string>>();

function parseFile(file: string, text: string): unknown {
  try {
    return parse(text);
  } catch (error) {
    throw new UserError([{ file, message: error instanceof Error ? error.message : String(error) }]);
  }
}

/** `{status: {fault: 'Fault'}}` to `status.fault` → `Fault`. */
export function flatten(tree: unknown, prefix = ''): Map<string, string> {
  if (typeof tree !== 'object' || tree === null) return new Map([[prefix, String(tree)]]);
  const entries = Object.entries(tree).flatMap(([key, value]) => [
    ...flatten(value, prefix ? `${prefix}.${key}` : key),
  ]);
  return new Map(entries);
}
