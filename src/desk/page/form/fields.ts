/** The form's fields: every key of the manifest, as its own schema has it. */
import { z } from 'zod';
import { SECTIONS } from '../../../manifest/schema.ts';

/** The way to a value in the manifest: keys, and numbers of items. */
export type Way = readonly (string | number)[];

export interface Field {
  readonly way: Way;
  /** The same without numbers; of its words: `field.<name>`. */
  readonly name: string;
  readonly kind: 'text' | 'choice' | 'flag' | 'number' | 'moment';
  readonly required: boolean;
  readonly choices: readonly string[];
  /** The value may stand for its whole group: `parked_draw: 50 mA`. */
  readonly alone: boolean;
}

/** A list whose items are groups. */
export interface FieldList {
  readonly way: Way;
  readonly name: string;
  readonly most: number;
  /** Of an item; their ways begin there. */
  readonly fields: readonly Field[];
}

interface Schema {
  readonly type?: string;
  readonly enum?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly anyOf?: readonly Schema[];
  readonly items?: Schema;
  readonly maxItems?: number;
  readonly additionalProperties?: unknown;
  readonly examples?: readonly unknown[];
}

/** Such as `log.columns.voltage.unit`, whatever the item. */
export const nameOf = (way: Way) => way.filter((part) => typeof part === 'string').join('.');

/** Columns and what they hold, and lists of names, stand in the text alone. */
export const TEXT_ONLY: readonly string[] = ['standstill', 'log.files', 'where'];

const schemas = Object.entries(SECTIONS)
  .filter(([section]) => !TEXT_ONLY.includes(section))
  .map(([section, schema]): [string, Schema, boolean] => [
    section,
    z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' }) as Schema,
    !schema.safeParse(undefined).success,
  ]);

export const FIELDS: readonly Field[] = schemas.flatMap(([section, schema, needed]) =>
  fieldsOf(schema, [section], needed),
);
export const LISTS: readonly FieldList[] = schemas.flatMap(([section, schema]) => listsOf(schema, [section]));

/** Keys of a group, also where a value may stand for the group. */
function groupOf(schema: Schema): Schema | undefined {
  return schema.properties ? schema : schema.anyOf?.find((one) => one.properties);
}

function fieldsOf(schema: Schema, way: Way, needed: boolean): Field[] {
  const group = groupOf(schema);
  if (group?.properties) {
    return Object.entries(group.properties).flatMap(([key, inner], k) => {
      const isNeeded = needed && (group.required?.includes(key) ?? false);
      const fields = fieldsOf(inner, [...way, key], isNeeded);
      return k === 0 && group !== schema ? fields.map((field) => ({ ...field, alone: true })) : fields;
    });
  }
  if (schema.type === 'array' || schema.type === 'object') return [];
  const choices = (schema.enum ?? []).map(String);
  return [{ way, name: nameOf(way), kind: kindOf(schema), required: needed, choices, alone: false }];
}

function kindOf({ type, enum: choices, examples }: Schema): Field['kind'] {
  if (choices) return 'choice';
  if (type === 'boolean') return 'flag';
  if (type === 'integer') return 'number';
  return /^\d{4}-\d\d-\d\dT/.test(String(examples?.[0])) ? 'moment' : 'text';
}

function listsOf(schema: Schema, way: Way): FieldList[] {
  if (schema.items) {
    if (!groupOf(schema.items)) return [];
    const fields = fieldsOf(schema.items, [], true).map((field) => ({
      ...field,
      name: `${nameOf(way)}.${field.name}`,
    }));
    return [{ way, name: nameOf(way), most: schema.maxItems ?? Number.POSITIVE_INFINITY, fields }];
  }
  return Object.entries(groupOf(schema)?.properties ?? {}).flatMap(([key, inner]) => listsOf(inner, [...way, key]));
}
