/**
 * Phrases that the program forms itself, in English: where a limit comes from, what was understood of a log, what was
 * found in a row. `content/<language>/phrases.yaml` says them in another language, each under its English words; `{…}`
 * in a key stands for what differs (a line's number, a column's name) and is passed on as it is.
 */

export type PhraseKind = 'source' | 'applies' | 'understood' | 'found';

/** The phrase in the language; in English where it is no phrase of ours, such as a source that the manifest names. */
export type Phrase = (kind: PhraseKind, english: string) => string;

/** @param phrases by `kind.english`; of patterns that fit the first is taken. */
export function makePhrase(phrases: ReadonlyMap<string, string>): Phrase {
  const patterns = [...phrases].flatMap(([key, said]) => (key.includes('{') ? [{ form: patternOf(key), said }] : []));
  return (kind, english) => {
    const key = `${kind}.${english}`;
    const whole = phrases.get(key);
    if (whole !== undefined) return whole;
    for (const { form, said } of patterns) {
      const groups = form.exec(key)?.groups;
      if (groups) return said.replaceAll(/\{(\w+)\}/g, (_, name: string) => groups[name] ?? '');
    }
    return english;
  };
}

function patternOf(english: string): RegExp {
  const parts = english.split(/\{(\w+)\}/);
  return new RegExp(`^${parts.map((text, k) => (k % 2 ? `(?<${text}>.+?)` : escaped(text))).join('')}$`, 's');
}

const escaped = (text: string) => text.replaceAll(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');
