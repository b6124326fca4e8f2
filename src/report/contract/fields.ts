/**
 * The kinds of value that `report.json` and `comparison.json` hold. A schema that is made of them reads, types and describes
 * at once: what stands in `describe` becomes the `description` of the published JSON Schema.
 */
import { z } from 'zod';
import { UserError } from '../../base/problem.ts';
import { shown } from '../../base/shown.ts';
import { zoneOf } from '../../base/zone.ts';
import { idFault, SESSION_ID } from '../../manifest/session-id.ts';

/** ISO 8601, UTC, `Z`, milliseconds. */
export type Iso = string;

/** A contract is read, never changed in place. */
export type DeepReadonly<T> = T extends readonly (infer Item)[]
  ? readonly DeepReadonly<Item>[]
  : T extends object
    ? { readonly [Key in keyof T]: DeepReadonly<T[Key]> }
    : T;

export const text = (description: string) => z.string().describe(description);
export const textOrNull = (description: string) => z.string().nullable().describe(description);
export const flag = (description: string) => z.boolean().describe(description);
/** Nothing that a vehicle shows is larger, in whatever unit; axes and sums of such numbers come to no end. */
const MOST = 1e15;
const plausible = <Schema extends z.ZodNumber>(schema: Schema) =>
  schema.refine((value) => Math.abs(value) <= MOST, 'is larger than anything that could be measured');
export const number = (description: string) => plausible(z.number()).describe(description);
export const numberOrNull = (description: string) => plausible(z.number()).nullable().describe(description);
/** Not below nought. */
export const amount = (description: string) => plausible(z.number().min(0)).describe(description);
export const amountOrNull = (description: string) => plausible(z.number().min(0)).nullable().describe(description);
export const count = (description: string) => z.int().min(0).describe(description);
/** 0 to 1. */
export const share = (description: string) => z.number().min(0).max(1).describe(description);
export const shareOrNull = (description: string) => z.number().min(0).max(1).nullable().describe(description);
export const texts = (description: string) => z.array(z.string()).describe(description);

const instant = z.iso.datetime({ precision: 3 });
const SAID_OF_TIMES = 'ISO 8601, UTC, with Z and milliseconds';
export const moment = (description: string) => instant.describe(`${description}; ${SAID_OF_TIMES}`);
export const momentOrNull = (description: string) => instant.nullable().describe(`${description}; ${SAID_OF_TIMES}`);

/** One of these words and no other: their meaning decides what a reader does. */
export const word = <const Words extends readonly string[]>(words: Words, description: string) =>
  z.enum(words).describe(description);

/** One of these words, or one that a later version adds: who reads it must have an answer for that. */
export const openWord = (words: readonly string[], description: string) =>
  z.union([z.enum(words), z.string()]).describe(`${description}. Later versions may add words`);

/** A key that every file has from `version` on. Files without it are read as if `absent` stood there. */
export const since = <Schema extends z.ZodType>(
  version: string,
  schema: Schema,
  absent: z.util.NoUndefined<z.output<Schema>>,
) => {
  const description = `${schema.description ?? ''}. Since ${version}`;
  return schema.default(absent).describe(description);
};

/** A key that is agreed on and not written yet. */
export const toCome = <Schema extends z.ZodType>(schema: Schema) =>
  schema.optional().describe(`${schema.description ?? ''}. To come: no version writes it yet`);

/** An id by the manifest's own rule: it names a folder. */
export const sessionId = (description: string) =>
  z
    .string()
    .regex(SESSION_ID, { error: ({ input }) => idFault(String(input)) })
    .refine((id) => !SESSION_ID.test(id) || idFault(id) === undefined, { error: ({ input }) => idFault(String(input)) })
    .describe(description);

export const zoneName = (description: string) =>
  z
    .string()
    .refine(isZone, { error: ({ input }) => `Found ${shown(input)}, which is no time zone` })
    .describe(description);

function isZone(name: string): boolean {
  try {
    zoneOf(name);
    return true;
  } catch (error) {
    if (error instanceof UserError) return false;
    throw error;
  }
}
