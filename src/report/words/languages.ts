/** Which of the languages that there are is written. */
import { nearest } from '../../base/nearest.ts';
import { CallError, UserError } from '../../base/problem.ts';
import { orList, shown } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';

const DEFAULT_LANGUAGE = 'en';

/** What is wrong with a language, and what is taken; undefined where there are words in it. */
export function languageFault(language: string, there: readonly string[]): string | undefined {
  if (there.includes(language)) return undefined;
  const near = nearest(language, there);
  return `Found ${shown(language)}.${near ? ` Did you mean ${near}?` : ''} Expected: ${orList(there)}.`;
}

export interface Wishes {
  /** Of the command line: comes first. */
  readonly asked?: string;
  /** From the manifest: comes second. */
  readonly session?: Pick<Session, 'language' | 'languageAt'>;
  /** The shop's own, which comes third. */
  readonly shop?: { readonly language: string | null } | null;
  /** Languages that there are words in. */
  readonly there: readonly string[];
}

/** The language to write in; `en` where nobody says. Throws a `UserError` with its place where there are no words in it. */
export function chooseLanguage({ asked, session, shop, there }: Wishes): string {
  const language = asked ?? session?.language ?? shop?.language ?? DEFAULT_LANGUAGE;
  const message = languageFault(language, there);
  if (message === undefined) return language;
  if (asked !== undefined) throw new CallError(`--language: ${message}`);
  throw new UserError([{ file: 'session.yaml', ...session?.languageAt, path: 'session.language', message }]);
}
