/**
 * `report.json`, schema `standstill-report/1`: the product, and the one place that says what is in it. The type of the report
 * that is written, the reader of the archive, the tests and the published JSON Schema all come from here.
 *
 * A key that stands here keeps its meaning and its unit. New keys are added with `since`, which says from which version on
 * every file has them and what their absence means; keys that are not known here are let through. Every such change has a
 * line in `.docs/CHANGELOG.md`.
 */
import { z } from 'zod';
import { AgainstModel } from './against-model.ts';
import { Crank, Drive, Event, Link, Parked, Period, Totals, Wake, WakePattern } from './events.ts';
import { type DeepReadonly, since, text, toCome } from './fields.ts';
import { Caution, ChecklistItem, Finding, Method, Summary } from './findings.ts';
import { LogPart } from './log.ts';
import { Portrait } from './portrait.ts';
import { SessionPart } from './session.ts';

export type { Iso } from './fields.ts';

export const REPORT_SCHEMA = 'standstill-report/1';

export const ReportContract = z
  .object({
    schema: z.literal(REPORT_SCHEMA).describe('Name and version of this contract'),
    tool: z
      .object({
        name: z.literal('standstill').describe('The program that wrote the report'),
        version: text('Its version'),
      })
      .describe('What wrote the report'),
    language: since('0.1.0', text('BCP 47 tag of the prose in the report'), 'en'),
    session: SessionPart,
    log: LogPart,
    periods: z.array(Period).describe('In order, without overlap, covering start to end of the log'),
    parked: z.array(Parked).describe('Stands'),
    wakes: z.array(Wake).describe('Wakes of all stands'),
    wake_patterns: z.array(WakePattern).describe('Wakes that are alike'),
    cranks: z.array(Crank).describe('Starts of the engine'),
    drives: z.array(Drive).describe('Drives'),
    links: z.array(Link).describe('Monitored circuits and the wakes'),
    totals: Totals,
    events: toCome(z.array(Event).describe('Failed and long starts, heavy loads')),
    portrait: since('0.2.0', Portrait.nullable().describe(`${Portrait.description}; null in older files`), null),
    against_model: since(
      '0.2.0',
      AgainstModel.describe(`${AgainstModel.description}; null where none is known, and in older files`),
      null,
    ),
    findings: z.array(Finding).describe('Every check once, also the clear ones'),
    summary: Summary,
    checklist: z
      .array(ChecklistItem)
      .describe("Everything to do, in the trade's order: safety, confirm, isolate, repair, verify"),
    cautions: z.array(Caution).describe('Texts of the cautions that the findings name'),
    method: z.array(Method).describe('How each figure was worked out'),
  })
  .describe('The report of a session. Current is positive into the battery; a draw is positive out of it');

export type Report = DeepReadonly<z.output<typeof ReportContract>>;
export type ReportSession = Report['session'];
export type ReportLog = Report['log'];
export type ReportFinding = Report['findings'][number];
export type Stage = Report['checklist'][number]['stage'];
