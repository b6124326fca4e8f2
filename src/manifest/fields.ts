/**
 * The kinds of value that a manifest holds, as zod schemas that read text into what the program uses. Each says in its own words
 * what was found and what is taken; the same definitions give the JSON Schema for editors.
 */
import { z } from 'zod';
import { nearest } from '../base/nearest.ts';
import { UserError } from '../base/problem.ts';
import { orList, shown } from '../base/shown.ts';
import { type ParsedTime, parseIso } from '../base/time.ts';
import {
  accuracyTaken,
  type Dimension,
  parseAccuracy,
  parseQuantity,
  quantityFault,
  unitPattern,
  unitsTaken,
} from './quantity.ts';
import { meant, type SaidAs } from './said-as.ts';

type Refusal = { readonly input?: unknown };
type Context = { addIssue(issue: { code: 'custom'; message: string }): void };

const refused = (taken: string) => (issue: Refusal) =>
  issue.input === undefined ? `Missing. Expected: ${taken}.` : `Found ${shown(issue.input)}. Expected: ${taken}.`;

/** A group of keys; any other key is refused with the nearest known one. */
export function group<Shape extends z.ZodRawShape>(shape: Shape, description: string) {
  const known = Object.keys(shape);
  const taken = `a group with the keys ${known.join(', ')}`;
  return z
    .strictObject(shape, {
      // One issue names all unknown keys of a group; `read-session.ts` takes it apart again, a line for each key.
      error: (issue) =>
        issue.code === 'unrecognized_keys'
          ? issue.keys.map((key) => unknownKey(key, known)).join('\n')
          : refused(taken)(issue),
    })
    .describe(description);
}

export function unknownKey(key: string, known: readonly string[]): string {
  const near = nearest(key, known);
  return `Unknown key ${shown(key)}.${near ? ` Did you mean ${near}?` : ''} Expected: ${known.join(', ')}.`;
}

export function list<Item extends z.ZodType>(item: Item, max: number, description: string) {
  return z
    .array(item, { error: (issue) => refused(listTaken(issue.input))(issue) })
    .max(max, { error: (issue) => `Found ${shown(issue.input)}. At most ${max} are taken.` })
    .describe(description);
}

/** With what was found as an example, where that is text. */
function listTaken(input: unknown): string {
  return typeof input === 'string' ? `a list, such as [${shown(input.replaceAll('\\', '/'))}]` : 'a list';
}

/** Text of one or more characters. What YAML takes for a number or a boolean is text here too. */
export function text(
  description: string,
  max = 200,
  fault: (value: string) => string | undefined = () => undefined,
  taken = 'text',
) {
  return z
    .union([z.string(), z.number(), z.boolean()], { error: refused(taken) })
    .transform((value, context) => {
      const trimmed = String(value).trim();
      return settle(trimmed, textFault(trimmed, max) ?? fault(trimmed), context);
    })
    .describe(description);
}

function textFault(value: string, max: number): string | undefined {
  if (value === '') return 'Found empty text.';
  if (value.length > max) return `Found ${value.length} characters. At most ${max} are taken.`;
  return /[^\P{Cc}\n\t]|\p{Cs}/u.test(value)
    ? `Found a control character in ${shown(value)}. Expected: plain text.`
    : undefined;
}

/** @param saidAs what people say for the words: it is suggested, not taken */
export function choice<const Words extends readonly string[]>(words: Words, description: string, saidAs?: SaidAs) {
  const error = ({ input }: Refusal) => {
    const near = typeof input === 'string' ? (meant(input, saidAs) ?? nearest(input, words)) : undefined;
    return near === undefined
      ? refused(orList(words))({ input })
      : `Found ${shown(input)}. Did you mean ${near}? Expected: ${orList(words)}.`;
  };
  return z.enum(words, { error }).describe(description);
}

export function flag(description: string) {
  return z.boolean({ error: refused('true or false') }).describe(description);
}

export function whole(from: number, to: number, description: string) {
  const error = refused(`a whole number from ${from} to ${to}`);
  return z.int({ error }).min(from, { error }).max(to, { error }).describe(description);
}

/** A number with a unit between two others (inclusive), which say what is plausible. See `parseQuantity` for what it comes to. */
export function quantity(dimension: Dimension, from: string, to: string, description: string) {
  const [least, most] = [parseQuantity(from, dimension), parseQuantity(to, dimension)];
  const error = ({ input }: Refusal) =>
    input === undefined ? `Missing. Expected: ${unitsTaken(dimension)}.` : quantityFault(input, dimension);
  return z
    .string({ error })
    .meta({ description, pattern: unitPattern(dimension), examples: [...new Set([from, to])] })
    .transform((value, context) =>
      attempt(context, () => {
        const number = parseQuantity(value, dimension);
        if (number >= least && number <= most) return number;
        throw new UserError(`Found ${shown(value)}, which is not plausible here. Expected: ${from} to ${to}.`);
      }),
    );
}

export function accuracy(dimension: 'voltage' | 'current' | 'temperature') {
  return z
    .string({ error: refused(accuracyTaken(dimension)) })
    .transform((value, context) =>
      attempt(context, () => {
        const parsed = parseAccuracy(value, dimension);
        if (parsed.relative <= 0.5) return parsed;
        throw new UserError(`Found ${shown(value)}, which is not plausible here: more than half of the reading.`);
      }),
    )
    .describe(`What the maker states: ${accuracyTaken(dimension)}`);
}

const MOMENT_TAKEN =
  'a date and time such as 2026-03-03T17:30, with an offset (+01:00 or Z) or local to session.timezone';

/** A date with a time of day, still without its zone. */
export function moment(description: string) {
  return z
    .string({ error: refused(MOMENT_TAKEN) })
    .meta({ description, examples: ['2026-03-03T17:30'] })
    .transform((value, context): ParsedTime => {
      const parsed = value.includes(':') ? parseIso(value) : undefined;
      const year = parsed === undefined ? 0 : new Date(parsed.localMs).getUTCFullYear();
      const fault =
        parsed === undefined || year < 1990 || year > 2100 ? refused(MOMENT_TAKEN)({ input: value }) : undefined;
      return settle(parsed ?? { localMs: 0 }, fault, context);
    });
}

/** A column's name in the header row, or its number, counted from 1. */
export function column(description: string) {
  const taken = refused('the name in the header row, or a column number from 1 to 1000');
  return z
    .union([z.string(), z.number(), z.boolean()], { error: taken })
    .transform((found, context) => {
      if (typeof found === 'number') {
        return settle(
          found,
          Number.isInteger(found) && found >= 1 && found <= 1000 ? undefined : taken({ input: found }),
          context,
        );
      }
      const name = String(found).trim();
      return settle(name, textFault(name, 200), context);
    })
    .describe(description);
}

function settle<Value>(value: Value, fault: string | undefined, context: Context): Value {
  if (fault === undefined) return value;
  context.addIssue({ code: 'custom', message: fault });
  return z.NEVER;
}

function attempt<Value>(context: Context, read: () => Value): Value {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    context.addIssue({ code: 'custom', message: error.message });
    return z.NEVER;
  }
}
