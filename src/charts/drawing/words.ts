/** What a chart says: its words by key, from `content/<language>/charts.yaml`, and how its language writes numbers and days. */

export interface Words {
  /** Between whole numbers and decimals. */
  readonly decimalMark: string;
  /** `Tue 3 Mar` in the language's order. `wallMs`: the local clock's reading, as ms since the epoch. */
  day(wallMs: number): string;
  /** The words of a key, its `{name}`s filled in. Throws where the key or a value is missing. */
  say(key: string, values?: Values): string;
}

type Values = Readonly<Record<string, string | number>>;

/**
 * @param locale BCP 47 tag
 * @param words by dotted key, such as `mark.limit`
 */
export function makeWords(locale: string, words: (key: string) => string): Words {
  // Made when a day is first asked for: that takes as long as a page of the desk may take to answer.
  let calendar: Intl.DateTimeFormat | undefined;
  const dayOf = (wallMs: number) => {
    calendar ??= new Intl.DateTimeFormat(locale, { timeZone: 'UTC', weekday: 'short', day: 'numeric', month: 'short' });
    return calendar.format(wallMs);
  };
  const decimal = new Intl.NumberFormat(locale).formatToParts(0.5).find((part) => part.type === 'decimal');
  return {
    decimalMark: decimal?.value ?? '.',
    // Some languages part the weekday by a comma, which costs room and tells nothing.
    day: (wallMs) => dayOf(wallMs).replace(',', ''),
    say: (key, values = {}) => filled(words(key), values),
  };
}

/** `{days} days` with the days filled in. */
export function filled(text: string, values: Values): string {
  return text.replaceAll(/\{(\w+)\}/g, (_, name: string) => {
    if (!(name in values)) throw new Error(`"${text}" asks for {${name}}, which is not given.`);
    return String(values[name]);
  });
}
