/** A new `session.yaml`: what is known filled in, each proposal with its reason, what only a person can say as a marked blank. */
import { stringify } from 'yaml';
import { orList } from '../base/shown.ts';
import { DRAFT_FIELDS, type DraftField, type DraftPath, pathOf } from './draft-fields.ts';

/** What a blank is marked with. `check` names each of them until it is filled. */
export const BLANK = 'FILL IN';

export interface DraftColumn {
  readonly name: string | number;
  /** Of a log with a row for each value. */
  readonly where?: Readonly<Record<string, string>>;
  readonly value?: string | number;
  /** Null: a blank to fill in. */
  readonly unit: string | null;
  readonly reason: string;
}

export interface DraftLog {
  /** Relative to the folder, patterns or names. */
  readonly files: readonly string[];
  readonly time: {
    readonly name: string | number;
    readonly clock?: string | number;
    readonly elapsed: boolean;
    /** The format to write, or those to choose from where `how` is null. */
    readonly formats: readonly string[];
    /** Null: how the times are written is not certain. */
    readonly how: string | null;
    readonly reason: string;
  } | null;
  readonly voltage: DraftColumn | null;
  readonly current: DraftColumn | null;
  readonly temperature: DraftColumn | null;
  readonly channels: readonly DraftColumn[];
  readonly open: Readonly<Partial<Record<'time' | 'voltage' | 'current' | 'temperature', string>>>;
  /** Names of all columns, for the person who fills the blanks; undefined where no sample was seen. */
  readonly columns?: readonly (string | number)[];
}

/** A value, and why it was proposed where it was. */
export interface Given {
  readonly value: string;
  readonly reason?: string;
}

export interface Draft {
  readonly id: { readonly value?: string; readonly reason: string };
  readonly values: Readonly<Record<DraftPath, Given>>;
  readonly log: DraftLog;
}

/** Without a sample: every column is a blank. */
export const NO_SAMPLE: DraftLog = {
  files: ['log/*.csv'],
  time: null,
  voltage: null,
  current: null,
  temperature: null,
  channels: [],
  open: {},
};

export function draftManifest(draft: Draft): string {
  const section = (name: DraftField['section']) =>
    DRAFT_FIELDS.filter((field) => field.section === name).map((field) => fieldLine(field, draft));
  return `${[
    `# One fitting of a logger to one vehicle. Fill in what is marked ${BLANK}; "standstill check" names what is left.`,
    '# A line that begins with # is left out; take the # away to use it. Quantities carry their unit.',
    'standstill: 1',
    'session:',
    line(
      'id',
      draft.id.value,
      `the folder's name in the archive${draft.id.value ? `; ${draft.id.reason}` : ': letters, digits, hyphen'}`,
    ),
    ...section('session'),
    'vehicle:',
    ...section('vehicle'),
    'battery:',
    ...section('battery'),
    ...logLines(draft.log, draft.values['current.positive']),
    'limits:                        # yours come before the defaults, which "standstill checks" lists with their sources',
    '  # from: harbour-van-baseline # id of a healthy session of the same model in the archive: its values become limits',
    "  # parked_draw: {max: 50 mA, source: Vehicle maker's service information}",
    '  # sleep_within: 30 min',
    'install:                       # from the fitting sheet; "standstill check" holds it against the log',
    '  # fitted_at: 2026-03-03T17:30',
    '  # memory_saver: {used: true, voltage_before: 12.5 V, voltage_during: 13.4 V}',
    '  # clock_checked: true',
    '  # amp_hours_cleared: true',
    '  # draw_at_start: 0.85 A      # read off the logger when the fitting was done, before the vehicle slept',
    '  # current_sensor: {place: negative cable}',
    '  # removed_at: 2026-03-08T09:00',
    'notes:',
    '  # - {at: 2026-03-04T18:20, text: Locked with the remote, bonnet closed}',
    'photos:                        # in this folder; without "at", the time that the camera wrote into the file',
    '  # - {file: photos/battery.jpg, at: 2026-03-03T17:35, text: Negative cable with sensor}',
    "assessment:                    # the workshop's own words on the customer's page; left out of a redacted report",
    '  # text: The tracker wakes the vehicle. Its supply was cut for the log, and the draw stopped.',
    '  # done: [Battery charged and tested, Tracker supply disconnected]',
    '  # offers:                    # as you word it; a tick and a signature of the customer order it',
    '  #   - {work: Fit a new tracker and log once more, effort: 1.5 h, price: 145 € with VAT}',
  ].join('\n')}\n`;
}

function fieldLine(field: DraftField, { values }: Draft): string {
  const given = values[pathOf(field)];
  if (given) return line(field.key, given.value, given.reason ?? '');
  return field.required ? line(field.key, undefined, field.taken) : commented(`  # ${field.key}:`, field.taken);
}

const COMMENT = 30;

/** `undefined` leaves a marked blank. */
function line(key: string, value: string | number | undefined, comment: string, indent = 2): string {
  const text = `${' '.repeat(indent)}${key}:${value === undefined ? '' : ` ${scalar(value)}`}`;
  const said = value === undefined ? `${BLANK}: ${comment}` : comment;
  return said === '' ? text : commented(text, said);
}

function commented(text: string, comment: string): string {
  return `${text.padEnd(COMMENT)} # ${oneLine(comment)}`;
}

function logLines(log: DraftLog, positive: Given | undefined): string[] {
  const { time, voltage, current, temperature, open } = log;
  const columns = log.columns?.map((name) => oneLine(String(name))).join(', ');
  return [
    'log:',
    commented(
      `  files: [${log.files.map((file) => JSON.stringify(file)).join(', ')}]`,
      'in name order: .csv .tsv .txt, each also .gz, and .parquet',
    ),
    ...(columns === undefined ? [] : [`  # the sample's columns: ${columns}`]),
    ...(voltage?.where
      ? [
          line(
            'hold',
            undefined,
            'how long a value stands while no other comes: longer than the log ever pauses, such as 1 h',
          ),
        ]
      : []),
    ...(time?.elapsed ? [line('start', undefined, 'when the log began, such as 2026-03-03T17:40:00')] : []),
    '  columns:',
    ...timeLines(time, open.time),
    ...(voltage ? because(voltage) : []),
    '    voltage:',
    ...(voltage
      ? nameLines(voltage)
      : [line('name', undefined, `the column of the battery voltage${open.voltage ? `; ${open.voltage}` : ''}`, 6)]),
    unitLine(voltage, 'V or mV'),
    '      # accuracy: 0.1 % + 10 mV  # from the data sheet; without it, more stays undecided',
    ...(current ? because(current) : []),
    ...(current ? currentLines(current, positive) : unused('current', open, CURRENT_BLANKS)),
    ...(temperature ? because(temperature) : []),
    ...(temperature
      ? ['    temperature:', ...nameLines(temperature), unitLine(temperature, '°C, °F or K')]
      : unused('temperature', open, ['{name: temp_c, unit: °C}'])),
    ...channelLines(log.channels),
  ];
}

const because = ({ reason }: DraftColumn) => [`    # proposed since ${oneLine(reason)}`];

function timeLines(time: DraftLog['time'], why: string | undefined): string[] {
  if (!time) {
    const asked = `the column of the time, as the header row names it${why ? `; ${why}` : ''}`;
    return ['    time:', line('name', undefined, asked, 6)];
  }
  return [
    time.how === null
      ? `    # ${oneLine(time.reason)}`
      : `    # proposed since ${oneLine(time.reason)}; read as ${oneLine(time.how)}`,
    '    time:',
    line('name', time.name, '', 6),
    ...(time.clock === undefined ? [] : [line('clock', time.clock, 'the time of day has a column of its own', 6)]),
    ...(time.how !== null && time.elapsed
      ? [line('format', time.formats[0], 'counts from the start of the log', 6)]
      : []),
    ...(time.how === null ? [line('format', undefined, choicesOf(time.formats), 6)] : []),
  ];
}

/** Where a column is found. */
function nameLines({ name, where, value }: DraftColumn): string[] {
  if (where === undefined) return [line('name', name, '', 6)];
  const said = Object.entries(where).map(([column, is]) => `${scalar(column)}: ${scalar(is)}`);
  return [`      where: {${said.join(', ')}}`, line('value', value, '', 6)];
}

/** A unit that nothing tells is asked for. */
function unitLine(column: DraftColumn | null, taken: string): string {
  return line('unit', column?.unit ?? undefined, column?.unit ? '' : taken, 6);
}

function choicesOf(formats: readonly string[]): string {
  if (formats.length === 0) return 'how the times are written, such as "DD.MM.YYYY HH:mm:ss"';
  return orList(formats.map((format) => (/\W/.test(format.replaceAll('-', '')) ? JSON.stringify(format) : format)));
}

function currentLines(current: DraftColumn, positive: Given | undefined): string[] {
  return [
    '    current:',
    ...nameLines(current),
    unitLine(current, 'A or mA'),
    line(
      'positive',
      positive?.value,
      positive ? (positive.reason ?? '') : 'what a positive number means: charging or discharging',
      6,
    ),
    '      # accuracy: 1 % + 5 mA     # from the data sheet; without it, draws near the limit stay undecided',
    '      # range: 500 A             # the most that the sensor can show',
  ];
}

const CURRENT_BLANKS = ['{name: battery_a, unit: A, positive: charging, accuracy: 1 % + 5 mA}'];

function unused(role: 'current' | 'temperature', open: DraftLog['open'], example: readonly string[]): string[] {
  return [
    ...(open[role] ? [`    # no ${role} proposed: ${oneLine(open[role])}`] : []),
    ...example.map((text) => `    # ${role}: ${text}`),
  ];
}

function channelLines(channels: readonly DraftColumn[]): string[] {
  const head = commented(
    '  channels:',
    'up to four monitored circuits; say what each is, and above (or below) which voltage it is on',
  );
  if (channels.length === 0) return [head, '    # - {name: in2_v, label: Tracker supply, active_above: 6 V}'];
  return [
    head,
    ...channels.flatMap((channel) => [
      `    # proposed since ${oneLine(channel.reason)}`,
      ...nameLines(channel).map((text, k) => (k === 0 ? `    - ${text.trim()}` : text)),
      unitLine(channel, 'V or mV'),
      '      # label: Tracker supply',
      '      # active_above: 6 V',
    ]),
  ];
}

/** As YAML reads it back: quoted where it must be. */
function scalar(value: string | number): string {
  return stringify(typeof value === 'string' ? oneLine(value) : value, { lineWidth: 0 }).trim();
}

/** A comment must not end early, nor may a value start a new line. */
function oneLine(text: string): string {
  return text.replace(/[\p{Cc}\p{Zl}\p{Zp}\s]+/gu, ' ').trim();
}
