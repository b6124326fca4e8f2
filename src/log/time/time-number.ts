/** Times that are counts: since 1970, or from the start of the log; and what their size and their column's name say of them. */

/** Their names in a manifest. `elapsed-…` needs `log.start`. */
export const COUNT_FORMATS = ['epoch-s', 'epoch-ms', 'epoch-us', 'elapsed-s', 'elapsed-ms'] as const;
export type CountFormat = (typeof COUNT_FORMATS)[number];

export const COUNT_WORDS: Readonly<Record<CountFormat, string>> = {
  'epoch-s': 's since 1970',
  'epoch-ms': 'ms since 1970',
  'epoch-us': 'µs since 1970',
  'elapsed-s': 's since log.start',
  'elapsed-ms': 'ms since log.start',
};

/** Powers of ten below a second. */
export const COUNT_SCALE: Readonly<Record<CountFormat, 0 | 3 | 6>> = {
  'epoch-s': 0,
  'epoch-ms': 3,
  'epoch-us': 6,
  'elapsed-s': 0,
  'elapsed-ms': 3,
};

/** From September 2001 a count of seconds since 1970 has ten digits; nothing that a logger counts from 0 gets there. */
const SINCE_1970: readonly (readonly [CountFormat, low: number])[] = [
  ['epoch-s', 1e9],
  ['epoch-ms', 1e12],
  ['epoch-us', 1e15],
];
/** Rows this far apart are none of a logger that counts seconds, or of one that counts milliseconds. Common practice, no source. */
const RARE_STEP_S = 100;
const RARE_STEP_MS = 10;

export interface CountGuess {
  /** One, where nothing else can be meant; two, the likelier first, where a person must say. */
  readonly formats: readonly CountFormat[];
  /** Median from row to row, in the file's unit. */
  readonly step: number;
}

/** Undefined where the cells are no rising numbers. */
export function countLike(cells: readonly string[], name: string | number): CountGuess | undefined {
  const numbers = cells.map((cell) => Number(cell.trim().replace(',', '.')));
  const good = numbers.filter((number) => !Number.isNaN(number));
  if (good.length < 0.8 * numbers.length || good.length === 0) return undefined;
  const step = medianStep(good);
  const since = SINCE_1970.find(([, low]) => good.filter((n) => n >= low && n < 5 * low).length >= 0.8 * good.length);
  if (since !== undefined) return { formats: [since[0]], step };
  if (!good.every((number, k) => number >= 0 && number < 1e9 && number >= (good[k - 1] ?? 0))) return undefined;
  const named = unitOfCount(name);
  if (named !== undefined) return { formats: [named === 'ms' ? 'elapsed-ms' : 'elapsed-s'], step };
  const whole = good.every((number) => Number.isInteger(number));
  if (!whole || step < RARE_STEP_MS) return { formats: ['elapsed-s'], step };
  return { formats: step >= RARE_STEP_S ? ['elapsed-ms', 'elapsed-s'] : ['elapsed-s'], step };
}

/** `time_ms`, `Zeit [s]`, `millis`, `t (ms)`, `timeMs`. */
export function unitOfCount(name: string | number): 's' | 'ms' | undefined {
  if (typeof name === 'number') return undefined;
  if (/(?:^|[^a-z])(?:ms|msec|millis\w*)\W*$/i.test(name) || /[a-z]M[sS]$/.test(name) || /millis/i.test(name))
    return 'ms';
  if (/(?:^|[^a-z])(?:s|sec|secs|seconds?|sekunden?)\W*$/i.test(name) || /[a-z]S(?:ec(?:onds?)?)?$/.test(name))
    return 's';
  return undefined;
}

function medianStep(numbers: readonly number[]): number {
  const steps = numbers
    .slice(1)
    .map((number, k) => number - (numbers[k] ?? Number.NaN))
    .filter((step) => step > 0)
    .sort((a, b) => a - b);
  return steps[steps.length >> 1] ?? 0;
}
