/** The form's fields: what a technician knows, by its place in the manifest, with the choices that the manifest's schema has. */
import { z } from 'zod';
import { DRAFT_FIELDS } from '../../manifest/draft-fields.ts';
import { SECTIONS } from '../../manifest/schema.ts';
import type { Way } from './manifest.ts';

export interface FormField {
  /** Of its words: `field.<name>`. */
  readonly name: string;
  readonly section: string;
  readonly way: Way;
  readonly required: boolean;
  /** What is taken, in the program's own words. */
  readonly taken: string;
  readonly choices: readonly string[];
}

const drafted = DRAFT_FIELDS.map(({ section, key, required, taken }): FormField => {
  const way = section === 'current' ? ['log', 'columns', 'current', key] : [section, key];
  return { name: `${section}.${key}`, section, way, required, taken, choices: choicesAt(way) };
});

const field = (name: string, section: string, way: Way, taken: string, required = false): FormField => {
  return { name, section, way, required, taken, choices: choicesAt(way) };
};

export const FORM_FIELDS: readonly FormField[] = [
  field('session.id', 'session', ['session', 'id'], 'letters, digits, hyphen', true),
  ...drafted,
  field('current.accuracy', 'current', ['log', 'columns', 'current', 'accuracy'], '1 % + 5 mA'),
  field('voltage.accuracy', 'current', ['log', 'columns', 'voltage', 'accuracy'], '0.1 % + 10 mV'),
  field('limits.parked_draw', 'limits', ['limits', 'parked_draw'], '50 mA'),
  field('limits.sleep_within', 'limits', ['limits', 'sleep_within'], '30 min'),
  field('install.fitted_at', 'install', ['install', 'fitted_at'], '2026-03-03T17:30'),
  field('install.removed_at', 'install', ['install', 'removed_at'], '2026-03-08T09:00'),
];

interface Schema {
  readonly enum?: readonly unknown[];
  readonly properties?: Readonly<Record<string, Schema>>;
}

function choicesAt([section, ...rest]: Way): readonly string[] {
  const whole = z.toJSONSchema(SECTIONS[section as keyof typeof SECTIONS], { io: 'input', unrepresentable: 'any' });
  const found = rest.reduce<Schema | undefined>((schema, key) => schema?.properties?.[key], whole as Schema);
  return (found?.enum ?? []).map(String);
}
