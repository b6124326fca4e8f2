/** The page's own words, in the language that its reader chose. */
import { filled } from '../../charts/drawing/words.ts';
import type { Message } from '../../report/words/phrases.ts';
import { contentOf } from '../content.ts';

export interface DeskWords {
  readonly language: string;
  readonly locale: string;
  say(key: string, values?: Readonly<Record<string, string | number>>): string;
  has(key: string): boolean;
  /** A label of the report, such as `chemistry.agm`; the word itself where there is none. */
  label(key: string, word: string): string;
  /** What the program tells of manifest and log. */
  readonly message: Message;
}

export function deskWords(language: string): DeskWords {
  const content = contentOf(language);
  const words = content.wordsOf('desk.yaml');
  return {
    language,
    locale: content.locale,
    has: (key) => words.has(key),
    message: content.message,
    say(key, values = {}) {
      const text = words.get(key);
      if (text === undefined) throw new Error(`content/${language}/desk.yaml has no ${key}`);
      return filled(text, values);
    },
    label(key, word) {
      try {
        return content.label(key);
      } catch {
        return word;
      }
    },
  };
}
