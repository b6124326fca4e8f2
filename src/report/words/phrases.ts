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

/** What the program tells of a manifest or a log, in the language; in English what is not among the messages. */
export type Message = (english: string) => string;

/**
 * As phrases, but what stands for `{…}` may be one of the messages too, and one that is not among them is taken sentence by sentence.
 *
 * @param messages by their English words; of patterns that fit the first is taken
 */
export function makeMessage(messages: ReadonlyMap<string, string>): Message {
  const patterns = [...messages].flatMap(([key, said]) =>
    key.includes('{') ? [{ form: patternOf(key, UNQUOTED), said }] : [],
  );
  const message = (english: string): string => {
    // A value as it was found.
    if (/^"[^"]*"$/.test(english)) return english;
    const whole = messages.get(english);
    if (whole !== undefined) return whole;
    for (const { form, said } of patterns) {
      const groups = form.exec(english)?.groups;
      if (groups)
        return said.replaceAll(/\{(\w+)\}/g, (sign, name: string) =>
          name in groups ? message(groups[name] ?? '') : sign,
        );
    }
    const sentences = (english.match(SENTENCE) ?? []).map((one) => one.trim());
    return sentences.length > 1 ? sentences.map(message).join(' ') : english;
  };
  return messages.size === 0 ? (english) => english : message;
}

/** What is quoted is taken whole: it may hold anything. */
const UNQUOTED = '(?:"[^"]*"|[^"])+?';
const SENTENCE = /(?:"[^"]*"|[^"])+?(?:[.?](?= [\p{Lu}"])|$)/gu;

function patternOf(english: string, group = '.+?'): RegExp {
  const parts = english.split(/\{(\w+)\}/);
  return new RegExp(`^${parts.map((text, k) => (k % 2 ? `(?<${text}>${group})` : escaped(text))).join('')}$`, 's');
}

const escaped = (text: string) => text.replaceAll(/[\\^$.*+?()[\]{}|/-]/g, '\\$&');
