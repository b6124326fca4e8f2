/**
 * Prose, labels and templates as files: `content/<language>/…` and `templates/…`. Folders are asked in order, so that a
 * shop's own file stands in for one of ours; of a YAML file each word does so alone.
 */
import { parse } from 'yaml';
import { UserError } from '../../base/problem.ts';
import { makeWords, type Words } from '../../charts/drawing/words.ts';
import { CHECKS } from '../../checks/registry.ts';
import { type Message, makeMessage, makePhrase, type Phrase } from './phrases.ts';

export interface Content {
  readonly language: string;
  /** BCP 47 tag for numbers and dates, from the labels. */
  readonly locale: string;
  /** Text of `content/<language>/<path>`; a `UserError` where no folder has it. */
  text(path: string): string;
  /** Words of `content/<language>/<path>`, a YAML file, by their dotted keys: each from the first folder that has it. */
  wordsOf(path: string): ReadonlyMap<string, string>;
  /** A label by its dotted key; a `UserError` where the labels lack it. */
  label(key: string): string;
  /** Text of `templates/<path>`: pages, partials, styles and scripts, which are the same in every language. */
  template(path: string): string;
  /** A file of the fonts, in base64. */
  font(file: string): string;
  /** Words of the charts. */
  readonly words: Words;
  /** Says what the program formed in English. */
  readonly phrase: Phrase;
  readonly message: Message;
}

/** The file that makes a folder of words a language. */
export const LABELS = 'labels.yaml';

/** A folder of texts, wherever it lies. */
export interface Texts {
  /** For messages. */
  readonly name: string;
  /** Undefined where there is no such file. Line ends are LF. */
  text(path: string): string | undefined;
  /** Words of a YAML file by their dotted keys, where they were read beforehand. */
  words?(path: string): ReadonlyMap<string, string> | undefined;
}

/** Where words, pages and letters come from; folders that come first are asked first. */
export interface ContentSources {
  /** Each holds `<language>/…` as `content/` does. */
  readonly words: readonly Texts[];
  /** Each holds what `templates/` does. */
  readonly templates: readonly Texts[];
  /** A file of the fonts, in base64. */
  font(file: string): string;
}

/** Throws a `UserError` that names the files where the language lacks the prose of a check. */
export function makeContent(language: string, { words, templates, font }: ContentSources): Content {
  const allOf = (path: string) =>
    words.flatMap(({ name, text }) => {
      const found = text(`${language}/${path}`);
      return found === undefined ? [] : [{ file: `${name}/${language}/${path}`, text: found }];
    });
  const text = (path: string): string => {
    const [first] = allOf(path);
    if (!first) throw new UserError([missing(language, path)]);
    return first.text;
  };
  const lacking = CHECKS.map(({ id }) => `checks/${id}.md`).filter((path) => allOf(path).length === 0);
  if (lacking.length > 0) throw new UserError(lacking.map((path) => missing(language, path)));
  const template = (path: string): string => {
    for (const tree of templates) {
      const found = tree.text(path);
      if (found !== undefined) return found;
    }
    throw new UserError(`templates/${path} is missing.`);
  };
  const wordsOf = (path: string) => {
    const all = words.flatMap((folder) => {
      const own = `${language}/${path}`;
      const text = folder.words ? undefined : folder.text(own);
      return folder.words?.(own) ?? (text === undefined ? [] : wordsIn(`${folder.name}/${own}`, text));
    });
    return new Map(all.reverse().flatMap((one) => [...one]));
  };
  const keyed = (path: string) => {
    const values = wordsOf(path);
    return (key: string): string => {
      const found = values.get(key);
      if (found === undefined)
        throw new UserError([{ file: `content/${language}/${path}`, path: key, message: 'this label is missing.' }]);
      return found;
    };
  };
  const label = keyed(LABELS);
  const locale = localeOf(label('locale'), language);
  const phrase = makePhrase(wordsOf('phrases.yaml'));
  const message = makeMessage(wordsOf('messages.yaml'));
  const ofCharts = makeWords(locale, keyed('charts.yaml'));
  return { language, locale, text, wordsOf, label, template, font, words: ofCharts, phrase, message };
}

const missing = (language: string, path: string) => ({
  file: `content/${language}/${path}`,
  message: 'is missing: each language needs every file that content/en has.',
});

function localeOf(tag: string, language: string): string {
  try {
    return Intl.getCanonicalLocales(tag)[0] ?? language;
  } catch {
    const message = `Found "${tag}". Expected: a tag such as en-GB.`;
    throw new UserError([{ file: `content/${language}/${LABELS}`, path: 'locale', message }]);
  }
}

/** Words of a YAML text by their dotted keys. One build asks for the same files several times. */
export function wordsIn(file: string, text: string): ReadonlyMap<string, string> {
  const known = wordsRead.get(text);
  if (known) return known;
  const words = flatten(parseFile(file, text));
  wordsRead.set(text, words);
  return words;
}

const wordsRead = new Map<string, ReadonlyMap<string, string>>();

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
