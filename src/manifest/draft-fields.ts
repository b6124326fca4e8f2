/** What a technician knows of session, vehicle and battery: the questions of `standstill init`, its flags, and the lines of a new `session.yaml`. */
import type { z } from 'zod';
import { UserError } from '../base/problem.ts';
import { there } from '../base/there.ts';
import { zoneOf } from '../base/zone.ts';
import { SECTIONS } from './schema.ts';

export interface DraftField {
  /** `current`: of the log's current column. */
  readonly section: 'session' | 'vehicle' | 'battery' | 'current';
  readonly key: string;
  /** Without it the file is not accepted. */
  readonly required: boolean;
  /** What is asked on a terminal; without one the field is only a flag and a line of the file. */
  readonly question?: string;
  /** What is taken; stands beside the line. */
  readonly taken: string;
}

export const DRAFT_FIELDS: readonly DraftField[] = [
  {
    section: 'session',
    key: 'title',
    required: true,
    question: 'Headline of the report',
    taken: 'a few words, such as: Flat after a weekend',
  },
  {
    section: 'session',
    key: 'purpose',
    required: true,
    question: 'Why is the logger fitted',
    taken: 'baseline, complaint or after-repair',
  },
  {
    section: 'session',
    key: 'concern',
    required: false,
    question: 'What does the customer say',
    taken: "in the customer's words",
  },
  { section: 'session', key: 'repair_order', required: false, question: 'Repair order', taken: 'its number' },
  { section: 'session', key: 'technician', required: false, question: 'Technician', taken: 'who fits the logger' },
  {
    section: 'session',
    key: 'timezone',
    required: true,
    question: 'Time zone of the logger’s clock',
    taken: 'an IANA name such as Europe/Dublin',
  },
  {
    section: 'session',
    key: 'language',
    required: false,
    taken: "of the report, such as en or de; without it the shop's",
  },
  {
    section: 'vehicle',
    key: 'description',
    required: true,
    question: 'Vehicle',
    taken: 'such as: 2017 panel van, 2.0 diesel',
  },
  {
    section: 'vehicle',
    key: 'registration',
    required: false,
    question: 'Registration',
    taken: 'left out of a redacted report',
  },
  { section: 'vehicle', key: 'vin', required: false, taken: 'left out of a redacted report' },
  { section: 'vehicle', key: 'odometer', required: false, question: 'Odometer', taken: 'such as 84210 km' },
  {
    section: 'vehicle',
    key: 'powertrain',
    required: true,
    question: 'Powertrain',
    taken: 'combustion, hybrid or electric',
  },
  { section: 'vehicle', key: 'system_voltage', required: true, question: 'System voltage', taken: '6 V, 12 V or 24 V' },
  {
    section: 'battery',
    key: 'chemistry',
    required: true,
    question: 'Kind of battery',
    taken: 'flooded, efb, agm, gel or lfp',
  },
  {
    section: 'battery',
    key: 'capacity',
    required: false,
    question: 'Capacity on its label',
    taken: '20-hour rating, such as 70 Ah',
  },
  {
    section: 'battery',
    key: 'cold_cranking',
    required: false,
    question: 'Cold cranking current on its label',
    taken: 'such as 680 A',
  },
  { section: 'battery', key: 'cranking_standard', required: false, taken: 'EN, SAE, IEC or DIN' },
  { section: 'battery', key: 'reserve_capacity', required: false, taken: 'such as 120 min' },
  {
    section: 'battery',
    key: 'fitted',
    required: false,
    taken: 'month in which the battery was fitted, such as 2022-05',
  },
  {
    section: 'current',
    key: 'positive',
    required: false,
    question: 'What does a positive current in the log mean',
    taken: 'charging or discharging',
  },
];

export type DraftPath = `${DraftField['section']}.${string}`;

export function pathOf({ section, key }: DraftField): DraftPath {
  return `${section}.${key}`;
}

/** What `check` would say of such a value, or undefined where it takes it. */
export function fieldFault({ section, key }: DraftField, text: string): string | undefined {
  const shape: Readonly<Record<string, z.ZodType>> =
    section === 'current' ? SECTIONS.log.shape.columns.shape.current.unwrap().shape : SECTIONS[section].shape;
  const result = there(shape[key]).safeParse(text);
  if (!result.success) return there(result.error.issues[0]).message;
  if (key !== 'timezone') return undefined;
  try {
    zoneOf(text);
    return undefined;
  } catch (error) {
    if (error instanceof UserError) return error.message;
    throw error;
  }
}

/** A session id made of any name; undefined where nothing of it can stand in one. */
export function idFrom(name: string): string | undefined {
  const plain = name.normalize('NFKD').replace(/\p{M}/gu, '');
  const id = plain
    .replace(/[^A-Za-z0-9]+/g, '-')
    .slice(0, 64)
    .replace(/^-+|-+$/g, '');
  return SECTIONS.session.shape.id.safeParse(id).success ? id : undefined;
}
