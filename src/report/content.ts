/**
 * Prose, labels and templates as files: `content/<language>/…` and `templates/…`. Folders are asked in order, so that a
 * shop's own file stands in for one of ours.
 */
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { parse } from 'yaml';
import { makeWords, type Words } from '../charts/words.ts';
import { UserError } from '../manifest/problem.ts';

export interface Content {
  readonly language: string;
  /** BCP 47 tag for numbers and dates, from the labels. */
  readonly locale: string;
  /** Text of `content/<language>/<path>`; a `UserError` where no folder has it. */
  text(path: string): string;
  has(path: string): boolean;
  /** A label by its dotted key; a `UserError` where the labels lack it. */
  label(key: string): string;
  /** Words of the charts. */
  readonly words: Words;
}

const ours = (name: string): string => fileURLToPath(new URL(`../../${name}`, import.meta.url));

/** @param overrides folders that are asked before ours; each holds `<language>/…` as `content/` does. */
export function loadContent(language: string, overrides: readonly string[] = []): Content {
  const folders = [...overrides, ours('content')].map((folder) => join(folder, language));
  const find = (path: string) => folders.map((folder) => join(folder, path)).find((file) => existsSync(file));
  const text = (path: string): string => {
    const file = find(path);
    if (!file)
      throw new UserError(
        `content/${language}/${path} is missing: each language needs every file that content/en has.`,
      );
    return readFileSync(file, 'utf8').replaceAll('\r\n', '\n');
  };
  const keyed = (path: string) => {
    const values = flatten(parse(text(path)));
    return (key: string): string => {
      const found = values.get(key);
      if (found === undefined)
        throw new UserError([{ file: `content/${language}/${path}`, path: key, message: 'this label is missing.' }]);
      return found;
    };
  };
  const label = keyed('labels.yaml');
  const locale = label('locale');
  const words = makeWords(locale, keyed('charts.yaml'));
  return { language, locale, text, has: (path) => find(path) !== undefined, label, words };
}

/** Text of `templates/<path>`, an override's first. */
export function loadTemplate(path: string, overrides: readonly string[] = []): string {
  const file = [...overrides, ours('templates')].map((folder) => join(folder, path)).find((name) => existsSync(name));
  if (!file) throw new UserError(`templates/${path} is missing.`);
  return readFileSync(file, 'utf8').replaceAll('\r\n', '\n');
}

/** `{status: {fault: 'Fault'}}` to `status.fault` → `Fault`. */
export function flatten(tree: unknown, prefix = ''): Map<string, string> {
  if (typeof tree !== 'object' || tree === null) return new Map([[prefix, String(tree)]]);
  const entries = Object.entries(tree).flatMap(([key, value]) => [
    ...flatten(value, prefix ? `${prefix}.${key}` : key),
  ]);
  return new Map(entries);
}
