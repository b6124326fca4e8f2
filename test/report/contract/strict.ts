/** Holds a file against its published JSON Schema as closely as only the version that wrote it can be held. */
import { Ajv } from 'ajv';
import { comparisonJsonSchema } from '../../../src/archive/comparison/contract.ts';
import { reportJsonSchema } from '../../../src/report/contract/json-schema.ts';

export interface Node {
  readonly description?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly additionalProperties?: Node;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
  readonly enum?: readonly unknown[];
  readonly default?: unknown;
  readonly required?: readonly string[];
}

// The pattern that stands beside it says what a date and time is.
const ajv = new Ajv({
  allErrors: true,
  strict: true,
  allowUnionTypes: true,
  formats: { 'date-time': true, date: true },
});
export const SCHEMAS = { report: reportJsonSchema() as Node, comparison: comparisonJsonSchema() as Node };
const VALIDATE = { report: ajv.compile(SCHEMAS.report), comparison: ajv.compile(SCHEMAS.comparison) };

/** What the schema refuses, keys that it does not describe, and words that it does not list. */
export function strictFaults(value: unknown, of: keyof typeof SCHEMAS): string[] {
  const refused = VALIDATE[of](value)
    ? []
    : (VALIDATE[of].errors ?? []).map((one) => `${one.instancePath}: ${one.message}`);
  return [...refused, ...unknown(value, [SCHEMAS[of]], '')];
}

function unknown(value: unknown, nodes: readonly Node[], path: string): string[] {
  const flat = nodes.flatMap(function flatten(node): readonly Node[] {
    return node.anyOf ? node.anyOf.flatMap(flatten) : [node];
  });
  if (Array.isArray(value)) {
    const items = flat.flatMap((node) => node.items ?? []);
    return [...new Set(value.flatMap((one) => unknown(one, items, `${path}[]`)))];
  }
  if (typeof value === 'string') {
    const words = flat.flatMap((node) => node.enum ?? []);
    return words.length > 0 && !words.includes(value) ? [`${path}: the word ${value} is not listed`] : [];
  }
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => {
    const own = flat.flatMap((node) => node.properties?.[key] ?? node.additionalProperties ?? []);
    const named = flat.some((node) => node.properties?.[key]?.description);
    const free = flat.some((node) => node.additionalProperties);
    return [...(named || free ? [] : [`${path}.${key}: no description`]), ...unknown(inner, own, `${path}.${key}`)];
  });
}
