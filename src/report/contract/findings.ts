/** `findings` and what is said of them on the first pages. */
import { z } from 'zod';
import { amountOrNull, moment, number, since, text, textOrNull, texts, word } from './fields.ts';

export const STATUSES = ['fault', 'watch', 'clear', 'undecided'] as const;
/** What a step is for; the order is the trade's. */
const STAGES = ['safety', 'confirm', 'isolate', 'repair', 'verify'] as const;

const UNIT = 'A, V, Ω, Ah, °C, s, K, Hz, or 1 for a share or a number of something';

const Measured = z
  .object({
    value: number('The value, in the unit beside it'),
    unit: text(`Unit of value and uncertainty: ${UNIT}`),
    uncertainty: amountOrNull('Expanded uncertainty (about 95 %); null where it cannot be given'),
    coverage: number('Coverage factor k of the uncertainty: 2, or less where known bounds make up most of it'),
  })
  .describe('What was measured');

const Limit = z
  .object({
    value: number('The limit that decided, in the unit beside it'),
    unit: text(`Unit: ${UNIT}`),
    source: text('Where the limit is from'),
  })
  .describe('What it was held against');

const Evidence = z
  .object({
    chart: text('Name of a chart, charts/NAME.vl.json'),
    from: moment('Begin of the stretch in question'),
    to: moment('End of the stretch in question'),
  })
  .describe('Where the answer can be seen');

export const Finding = z
  .object({
    check: text('Id of the check that answers'),
    name: text("The check's name"),
    question: text('What the check asks'),
    status: word(STATUSES, 'The answer; undecided: the log cannot tell, and reason says what it lacks'),
    title: text('The answer as a headline'),
    plain: text('The answer for the customer'),
    detail: text('The answer for the technician'),
    measured: Measured.nullable().describe('What was measured; null where there is nothing to measure'),
    limit: Limit.nullable().describe('What it was held against; null where there is no one limit'),
    reason: textOrNull('Why it is undecided; null with every other answer'),
    variant: since('0.2.0', textOrNull('Which of the stories of its status it is; null for the plain one'), null),
    reason_key: since('0.1.0', textOrNull("The reason's key, the same in every language"), null),
    evidence: z.array(Evidence).describe('Where the answer can be seen'),
    cautions: texts('Ids of the cautions that go with it'),
    next_steps: texts('What to do next, in this order'),
    follows: since(
      '0.1.0',
      textOrNull('Id of the check whose finding this one follows from; null where from none'),
      null,
    ),
  })
  .describe('The answer of a check');

export const Summary = z
  .object({
    answer: text('The answer to the concern in one sentence'),
    found: texts('What was found'),
    means: texts('What it means'),
    suggest: texts('What is suggested'),
    until_then: texts('What to do until then'),
    not_yet: texts('What the vehicle may not do yet, or what may not be concluded'),
  })
  .describe("What the first page says, in the report's language");

export const ChecklistItem = z
  .object({
    stage: word(STAGES, 'What the step is for'),
    text: text('The step'),
    checks: texts('Ids of the checks that ask for it; empty where it goes with every job'),
  })
  .describe('A step');

export const Caution = z
  .object({
    id: text('Id, as findings name it'),
    title: text('In a few words'),
    text: text('The caution'),
    source: textOrNull('Where it is from; null where it is the trade’s common practice'),
  })
  .describe('A caution');

export const Method = z
  .object({ title: text('What is worked out'), text: text('How, as plain text') })
  .describe('How a figure was worked out');
