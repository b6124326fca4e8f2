/** The `log` section of `session.yaml`: which files, and how to read them. */
import { z } from 'zod';
import { nearest } from '../base/nearest.ts';
import { orList, shown } from '../base/shown.ts';
import { accuracy, choice, column, group, list, moment, quantity, text, whole } from './fields.ts';
import { pathFault } from './paths.ts';
import { SAID_AS, UNITS_SAID_AS } from './said-as.ts';
import type { TimeFormat } from './session.ts';

const DELIMITERS: Readonly<Record<string, string>> = { comma: ',', semicolon: ';', tab: '\t', space: ' ', pipe: '|' };

/** Untrimmed, since a delimiter may be a tab or a space. */
const delimiter = z
  .string({ error: (issue) => `Found ${shown(issue.input)}. Expected: ${delimiterTaken()}.` })
  .meta({
    description: 'What separates the columns. Found from the file if left out',
    examples: [',', ...Object.keys(DELIMITERS)],
  })
  .transform((found, context) => {
    if (Object.hasOwn(DELIMITERS, found)) return DELIMITERS[found];
    if (/^[^\w"'.+\-\\\r\n\p{L}\p{N}]$/u.test(found)) return found;
    const near = nearest(found, Object.keys(DELIMITERS));
    const hint = near === undefined ? '' : ` Did you mean ${near}?`;
    context.addIssue({ code: 'custom', message: `Found ${shown(found)}.${hint} Expected: ${delimiterTaken()}.` });
    return z.NEVER;
  });

function delimiterTaken(): string {
  return `one character in quotes, or ${orList(Object.keys(DELIMITERS))}`;
}

const NAMED_FORMATS = ['iso', 'epoch-s', 'epoch-ms', 'epoch-us', 'elapsed-s', 'elapsed-ms'] as const;
/** The letters that `log/` reads in a pattern; what stands in brackets stands for itself. */
const TOKENS = /\[[^\]]*\]|YYYY|YY|MMM?|M|DD?|HH?|hh?|mm?|ss?|S+|[AaZ]/g;

function formatFault(format: string): string | undefined {
  if ((NAMED_FORMATS as readonly string[]).includes(format)) return undefined;
  const taken = `Expected: ${orList([...NAMED_FORMATS, 'a pattern such as "DD.MM.YYYY HH:mm:ss"'])}.`;
  const tokens = new Set((format.match(TOKENS) ?? []).map((token) => token[0]));
  const unknown = format
    .replace(TOKENS, '')
    .replaceAll('T', '')
    .match(/\p{L}+/u)?.[0];
  if (
    unknown === undefined &&
    ['Y', 'M', 'D'].every((token) => tokens.has(token)) &&
    (tokens.has('H') || tokens.has('h')) &&
    tokens.has('m')
  ) {
    return undefined;
  }
  const near = nearest(format, NAMED_FORMATS);
  if (near !== undefined) return `Found ${shown(format)}. Did you mean ${near}? ${taken}`;
  const why = unknown === undefined ? 'lacks the year, month, day, hour or minute' : `holds ${shown(unknown)}`;
  return `Found ${shown(format)}, which ${why}. ${taken} A pattern takes YYYY, MM, DD, HH, mm, ss and SSS; put other letters in [ ].`;
}

const timeFormat = text(
  'iso, epoch-s, epoch-ms, epoch-us, elapsed-s, elapsed-ms, or a pattern such as "DD.MM.YYYY HH:mm:ss". Found from the file if left out',
  60,
  formatFault,
).transform(
  (format) => ((NAMED_FORMATS as readonly string[]).includes(format) ? format : { pattern: format }) as TimeFormat,
);

const voltageUnit = choice(['V', 'mV'], 'Unit that the log writes', UNITS_SAID_AS.voltage);

/** Of a log with a row for each value: which rows, and where the value stands. */
const long = {
  where: z
    .record(z.string(), text('What the column holds in the rows of this quantity', 200), {
      error: (issue) =>
        `Found ${shown(issue.input)}. Expected: columns and what they hold, such as {PID: Control module voltage}.`,
    })
    .optional()
    .describe('Of a log with a row for each value: what other columns hold in the rows of this quantity'),
  value: column('Of a log with a row for each value: column of the value').optional(),
};

const channel = group(
  {
    name: column('Column of the monitored circuit').optional(),
    ...long,
    label: text('What the report calls the circuit. The column name if left out', 60).optional(),
    unit: voltageUnit.optional(),
    active_above: quantity('voltage', '-60 V', '60 V', 'The circuit is on above this voltage').optional(),
    active_below: quantity('voltage', '-60 V', '60 V', 'The circuit is on below this voltage').optional(),
    measures: choice(
      ['supply', 'drop'],
      'supply: the voltage of a circuit. drop: the voltage lost along a cable or earth that the channel is set across',
    ).optional(),
  },
  'A monitored circuit',
);

export const logSection = group(
  {
    files: list(
      text('A name or a pattern such as "log/*.csv"; a pattern gives its files in name order', 500, (path) =>
        pathFault(path, true),
      ),
      100,
      'Log files, relative to the session folder',
    ).min(1, { error: 'Found an empty list. Expected: at least one name or pattern, such as "log/*.csv".' }),
    delimiter: delimiter.optional(),
    decimal: choice(['.', ','], 'Decimal sign. Found from the file if left out').optional(),
    skip_rows: whole(0, 10_000, 'Lines before the header row').optional(),
    start: moment('When the log began; only for elapsed time, or none').optional(),
    step: quantity('duration', '1 ms', '1 d', 'Time from row to row, where the log has no column of times').optional(),
    hold: quantity(
      'duration',
      '1 s',
      '7 d',
      'Of a log with a row for each value: how long one stands while no other comes',
    ).optional(),
    columns: group(
      {
        time: group(
          {
            name: column('Column of the time, or of the date'),
            clock: column(
              'Column of the time of day, if it has one of its own; the pattern is of both with a space between',
            ).optional(),
            format: timeFormat.optional(),
          },
          'Time of each sample',
        ).optional(),
        voltage: group(
          {
            name: column('Column of the battery voltage').optional(),
            ...long,
            unit: voltageUnit,
            accuracy: accuracy('voltage').optional(),
          },
          'Battery voltage',
        ),
        current: group(
          {
            name: column('Column of the battery current').optional(),
            ...long,
            unit: choice(['A', 'mA'], 'Unit that the log writes', UNITS_SAID_AS.current),
            positive: choice(
              ['charging', 'discharging'],
              'What a positive number in the log means',
              SAID_AS['current.positive'],
            ),
            accuracy: accuracy('current').optional(),
            range: quantity('current', '100 mA', '10000 A', 'Largest current that the sensor can show').optional(),
          },
          'Battery current',
        ).optional(),
        temperature: group(
          {
            name: column('Column of the temperature').optional(),
            ...long,
            unit: choice(['°C', '°F', 'K'], 'Unit that the log writes', UNITS_SAID_AS.temperature),
            accuracy: accuracy('temperature').optional(),
          },
          'Battery temperature',
        ).optional(),
      },
      'Columns of the log',
    ),
    channels: list(channel, 4, 'Up to four monitored circuits').optional(),
  },
  'The log and how to read it',
);
