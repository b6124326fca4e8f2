/** `log`: what was read, and everything that is wrong with it. */
import { z } from 'zod';
import { amount, count, moment, momentOrNull, openWord, text, textOrNull } from './fields.ts';

const FAULT_KINDS = [
  'gap',
  'clock-jump',
  'duplicate-rows',
  'out-of-order',
  'unreadable-row',
  'cut-short',
  'out-of-range',
  'frozen',
  'overlap',
  'ambiguous-time',
  'impossible-time',
  'empty',
] as const;

const File = z
  .object({
    name: text('Path in the session folder'),
    bytes: count('Size, bytes'),
    sha256: z
      .string()
      .regex(/^[0-9a-f]{64}$/)
      .describe('SHA-256 of the file as it was read, in hexadecimal digits'),
    rows: count('Rows that were read from it'),
  })
  .describe('A file of the log');

const Fault = z
  .object({
    kind: openWord(FAULT_KINDS, 'What is wrong'),
    at: momentOrNull('Where it begins; null where no time can be told'),
    count: count('Rows or occurrences'),
    seconds: amount('Time that is lost or concerned, or by which a clock jumped, s'),
    file: textOrNull('File in which it was met first'),
    line: z.int().nullable().describe('Line of that file, counted from 1'),
    found: textOrNull('What was found there, for people'),
  })
  .describe('Something wrong with the log');

export const LogPart = z
  .object({
    files: z.array(File).min(1).describe('Files in the order in which they were read'),
    rows: count('Rows read, the rejected ones not counted'),
    rows_rejected: count('Rows that could not be used'),
    start: moment('First sample'),
    end: moment('Last sample'),
    covered_s: amount('Time from start to end for which there are samples, s'),
    missing_s: amount('The rest of that time, s'),
    median_step_s: amount('Median time from sample to sample, s'),
    faults: z.array(Fault).describe('Everything that is wrong with the rows; nothing is corrected in silence'),
    understood: z
      .array(
        z
          .object({ what: text('What was understood'), how: text('How') })
          .describe('Something that had to be understood'),
      )
      .describe('How delimiters, times and the like were understood, for people'),
  })
  .describe('The log');
