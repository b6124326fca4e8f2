/** Which languages there are, and which of them is written. */
import { existsSync, readdirSync } from 'node:fs';
import { join } from 'node:path';
import { nearest } from '../../base/nearest.ts';
import { CallError, UserError } from '../../base/problem.ts';
import { orList, shown } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import { CONTENT, LABELS } from './content.ts';

const DEFAULT_LANGUAGE = 'en';

/** In order of names. A shop's own folder may bring a language that we do not have. */
export function languagesThere(overrides: readonly string[] = []): string[] {
  const names = [CONTENT, ...overrides].flatMap((folder) =>
    readdirSync(folder).filter((name) => existsSync(join(folder, name, LABELS))),
  );
  return [...new Set(names)].sort();
}

/** What is wrong with a language, and what is taken; undefined where there are words in it. */
export function languageFault(language: string, overrides: readonly string[] = []): string | undefined {
  const there = languagesThere(overrides);
  if (there.includes(language)) return undefined;
  const near = nearest(language, there);
  return `Found ${shown(language)}.${near ? ` Did you mean ${near}?` : ''} Taken: ${orList(there)}.`;
}

export interface Wishes {
  /** Of the command line: comes first. */
  readonly asked?: string;
  /** From the manifest: comes second. */
  readonly session?: Pick<Session, 'language' | 'languageAt'>;
  /** The shop's own, which comes third, and its folders of words. */
  readonly shop?: { readonly language: string | null; readonly content: readonly string[] } | null;
}

/** The language to write in; `en` where nobody says. Throws a `UserError` with its place where there are no words in it. */
export function chooseLanguage({ asked, session, shop }: Wishes): string {
  const language = asked ?? session?.language ?? shop?.language ?? DEFAULT_LANGUAGE;
  const message = languageFault(language, shop?.content);
  if (message === undefined) return language;
  if (asked !== undefined) throw new CallError(`--language: ${message}`);
  throw new UserError([{ file: 'session.yaml', ...session?.languageAt, path: 'session.language', message }]);
}
