import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { BLANK, type Draft, draftManifest, NO_SAMPLE } from '../../src/manifest/draft.ts';
import { DRAFT_FIELDS, fieldFault, idFrom, pathOf } from '../../src/manifest/draft-fields.ts';
import { readTree } from '../../src/manifest/yaml-tree.ts';

const values = (text: string): Draft['values'] =>
  Object.fromEntries(DRAFT_FIELDS.map((field) => [pathOf(field), { value: text }]));
const draft = (more: Partial<Draft> = {}): Draft => ({
  id: { value: 'an-id', reason: '' },
  values: {},
  log: NO_SAMPLE,
  ...more,
});
const read = (text: string) => readTree(text, 'session.yaml').data as Record<string, Record<string, unknown>>;

describe('draftManifest', () => {
  it('is YAML that reads back what was given, whatever it holds', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 60 }), (text) => {
        const written = text.replace(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
        fc.pre(written !== '' && !/\p{Cs}|\uFEFF|\uFFFE|\uFFFF/u.test(written));
        const data = read(draftManifest(draft({ values: values(text) })));
        expect(String(data.session.title)).toBe(written);
        expect(String(data.vehicle.description)).toBe(written);
      }),
    );
  });

  it('lets no name of a column or reason break out of its line', () => {
    const nasty = 'v\nstandstill: 2 # {';
    const column = { name: nasty, unit: 'V', reason: `since\n  evil: ${nasty}` };
    const time = { name: nasty, elapsed: false, formats: [], how: 'ISO\nevil: 1', reason: 'its\nevil: 1' };
    const log = { ...NO_SAMPLE, time, voltage: column, current: column, channels: [column], columns: [nasty] };
    const data = read(draftManifest(draft({ log })));
    expect(data.standstill).toBe(1);
    expect(Object.keys(data)).toEqual([
      'standstill',
      'session',
      'vehicle',
      'battery',
      'log',
      'limits',
      'install',
      'notes',
      'photos',
      'assessment',
    ]);
  });

  it('marks every required field that is not given, and only those', () => {
    const blanks = draftManifest(draft())
      .split('\n')
      .filter((line) => line.includes(`# ${BLANK}:`));
    const required = DRAFT_FIELDS.filter((field) => field.required).map((field) => field.key);
    expect(blanks.map((line) => line.trim().split(':')[0])).toEqual([...required, 'name', 'name', 'unit']);
  });
});

describe('fieldFault', () => {
  it('says what check would say', () => {
    const of = (key: string) => DRAFT_FIELDS.find((field) => field.key === key) as (typeof DRAFT_FIELDS)[number];
    expect(fieldFault(of('capacity'), '70 Ah')).toBeUndefined();
    expect(fieldFault(of('capacity'), '70')).toContain('without a unit');
    expect(fieldFault(of('powertrain'), 'combustoin')).toContain('Did you mean combustion?');
    expect(fieldFault(of('timezone'), 'Mars/Olympus')).toBeDefined();
    expect(fieldFault(of('timezone'), 'Europe/Dublin')).toBeUndefined();
  });
});

describe('idFrom', () => {
  it.each([
    ['harbour-lane-0412', 'harbour-lane-0412'],
    ['Van März (2)', 'Van-Marz-2'],
    ['--x--', 'x'],
    ['con', undefined],
    ['???', undefined],
  ])('%s gives %s', (name, id) => {
    expect(idFrom(name)).toBe(id);
  });
});
