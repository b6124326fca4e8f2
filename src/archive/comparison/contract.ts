/** `comparison.json`, schema `standstill-comparison/1`: its type and its JSON Schema. What stands here keeps its meaning. */
import { z } from 'zod';
import {
  amountOrNull,
  type DeepReadonly,
  numberOrNull,
  openWord,
  sessionId,
  text,
  word,
} from '../../report/contract/fields.ts';
import { STATUSES } from '../../report/contract/findings.ts';
import { jsonSchema } from '../../report/contract/json-schema.ts';
import { MEASURES } from '../measures.ts';
import { OVERALL, REASONS } from './reasons.ts';

const VERDICTS = ['cured', 'not-shown', 'worse', 'undecided'] as const;

const value = (description: string) =>
  z
    .object({
      value: numberOrNull('In the unit of the measure; null where the report has none'),
      uncertainty: amountOrNull('Expanded uncertainty (about 95 %); null where it is not known'),
    })
    .describe(description);

const Measure = z
  .object({
    name: openWord(
      MEASURES.map(({ name }) => name),
      'What is compared',
    ),
    unit: text(
      'Unit of all its values: A, s, V, Ω, 1/d (events a day) or Ah/d (charge a day, positive into the battery)',
    ),
    before: value('Of the earlier session'),
    after: value('Of the later session'),
    difference: numberOrNull('After less before; null where either is not known'),
    difference_uncertainty: amountOrNull('Expanded uncertainty of the difference (about 95 %)'),
    verdict: word(
      VERDICTS,
      'cured: it was a fault before, is none after, and the difference exceeds its uncertainty; not-shown: that is not shown',
    ),
    reason: text('Why, in words'),
    reason_key: openWord(REASONS, "The reason's key, the same in every language"),
  })
  .describe('A measure in both sessions');

const Change = z
  .object({
    check: text('Id of the check'),
    name: text('Its name'),
    before: word(STATUSES, 'Its answer in the earlier session'),
    after: word(STATUSES, 'Its answer in the later session'),
    change: openWord(
      ['gone', 'new', 'better', 'worse', 'stays', 'open'],
      'gone: was a fault or worth watching, is in order; new: the other way round; open: one of the two is undecided',
    ),
    title_before: text('Its headline in the earlier session'),
    title_after: text('Its headline in the later session'),
  })
  .describe('A check that answered differently, or found something both times');

export const ComparisonContract = z
  .object({
    schema: z.literal('standstill-comparison/1').describe('Name and version of this contract'),
    before: sessionId('Id of the earlier session'),
    after: sessionId('Id of the later session'),
    verdict: word(VERDICTS, 'Of the whole: what ailed the vehicle before must be shown cured, one and all'),
    reason: text('Why, in words'),
    reason_key: openWord(OVERALL, "The reason's key, the same in every language"),
    measures: z.array(Measure).describe('What either report has a value of'),
    findings: z.array(Change).describe('Checks that answered differently, or found something both times'),
  })
  .describe('What changed between two sessions, and whether the change exceeds what the two logs leave open');

export type ComparisonJson = DeepReadonly<z.output<typeof ComparisonContract>>;

export const comparisonJsonSchema = () => jsonSchema(ComparisonContract, 'comparison.json');
