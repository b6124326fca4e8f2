import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { SECTIONS, sessionJsonSchema } from '../../src/manifest/schema.ts';
import { LIMIT_KEYS } from '../../src/manifest/session.ts';
import { EXAMPLE } from './example.ts';

interface Node {
  readonly description?: string;
  readonly examples?: readonly unknown[];
  readonly pattern?: string;
  readonly properties?: Readonly<Record<string, Node>>;
  readonly items?: Node;
  readonly anyOf?: readonly Node[];
}

const schema = sessionJsonSchema();
const validate = new Ajv({ allErrors: true, strict: true, allowUnionTypes: true }).compile(schema);

/** The example as an editor's YAML reader has it; the bare comma in its note would split the text there. */
function asJson(from = '', to = ''): unknown {
  expect(EXAMPLE).toContain(from);
  return parse(EXAMPLE.replace('text: Locked with the remote, bonnet closed', 'text: Locked').replace(from, () => to));
}

describe('the JSON Schema', () => {
  it('takes the example', () => {
    expect(validate(asJson())).toBe(true);
  });

  it.each([
    ['70 Ah', '70'],
    ['70 Ah', '70 A'],
    ['50 mA', '50'],
    ['30 min', '30'],
    ['purpose: complaint', 'purpose: other'],
    ['  purpose: complaint', '  # none'],
    ['repair_order', 'repair_ordr'],
    ['used: true', 'used: yes'],
    ['standstill: 1', 'standstill: 2'],
    ['in2_v, label', 'in2_v, lable'],
    ['files: ["log/*.csv"]', 'files: []'],
  ])('refuses %s → %s', (from, to) => {
    expect(validate(asJson(from, to))).toBe(false);
  });

  it('describes every key, so that an editor can tell what it is', () => {
    const silent: string[] = [];
    const visit = (node: Node, path: string) => {
      if (node.description === undefined) silent.push(path);
      for (const [key, inner] of Object.entries(node.properties ?? {})) visit(inner, `${path}.${key}`);
      if (node.items !== undefined) visit(node.items, `${path}[]`);
    };
    visit(schema as Node, '');
    expect(silent.filter((path) => !path.startsWith('.limits.') && !path.endsWith('.source'))).toEqual([]);
  });

  it('gives quantities a pattern that their own examples fulfil', () => {
    const capacity = (schema as Node).properties?.battery.properties?.capacity;
    expect(capacity?.examples).toEqual(['1 Ah', '500 Ah']);
    expect('500 Ah').toMatch(new RegExp(capacity?.pattern ?? '^$'));
  });
});

it('has a key for every limit that a check may ask for', () => {
  const { from: _, ...limits } = SECTIONS.limits.unwrap().shape;
  const keys = Object.keys(limits).flatMap((key) =>
    key === 'charging_voltage'
      ? ['chargingVoltageMin', 'chargingVoltageMax']
      : [key.replace(/_(.)/g, (_, letter) => letter.toUpperCase())],
  );
  expect(keys.sort()).toEqual(Object.keys(LIMIT_KEYS).sort());
});
