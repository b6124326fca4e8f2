/** What `standstill check` says, on one screen. */

import { zoneOf } from '../base/zone.ts';
import { checkOf } from '../checks/registry.ts';
import type { FittingAnswer } from '../measures/fitting-record.ts';
import type { Unit } from '../measures/limit.ts';
import type { Report } from '../report/contract/report.ts';
import { type Format, makeFormat } from '../report/words/format.ts';
import { wrap } from './wrap.ts';

export interface Account {
  readonly report: Report;
  readonly fitting: readonly FittingAnswer[];
  /** What stays out of the report, or lies beside the log. */
  readonly remarks: readonly string[];
}

const LABEL = 15;
/** Faults beyond these are counted; the report lists them all. */
const MOST_FAULTS = 12;

export function checkWords({ report, fitting, remarks }: Account, columns: number): string[] {
  const format = makeFormat('en-GB', zoneOf(report.session.timezone));
  const rows: [label: string, text: string][] = [
    ...manifestRows(report, format),
    ...logRows(report, format),
    ...faultRows(report, format),
    ...remarks.map((remark, k): [string, string] => [k === 0 ? 'look at' : '', remark]),
    ...fittingRows(fitting, format),
    ...logFindings(report),
    ...decisionRows(report),
  ];
  const { id, title } = report.session;
  return [`${id}: ${title}`, ...rows.flatMap(([label, text]) => wrap(text, columns, `  ${label}`, LABEL + 2))];
}

type Rows = [string, string][];

function manifestRows({ session }: Report, format: Format): Rows {
  const { vehicle, battery } = session;
  const capacity = battery.capacity_ah === null ? 'capacity not given' : format.Ah(battery.capacity_ah);
  const limits = session.limits.map(
    ({ key, value, unit, source }) => `${key} ${format.limit(value, unit as Unit)} (${source})`,
  );
  const left = session.limits_from?.left.map(({ key, reason }) => `${key}: the default, ${reason}`) ?? [];
  return [
    ['vehicle', `${vehicle.description}, ${vehicle.powertrain}, ${vehicle.system_voltage_v} V`],
    ['battery', `${battery.chemistry}, ${capacity}`],
    ...(limits.length ? ([['limits', limits.join('; ')]] satisfies Rows) : []),
    ...(left.length ? ([['limits left', left.join('; ')]] satisfies Rows) : []),
    ...session.columns.map((column): [string, string] => [column.role, columnWords(column)]),
  ];
}

/** Whether the accuracy is given matters where verdicts hang on it. */
function columnWords({ role, name, unit, accuracy }: Report['session']['columns'][number]): string {
  const matters = role === 'voltage' || role === 'current';
  const said = accuracy ? `, accuracy ${accuracy}` : matters ? ', accuracy not given: more will stay undecided' : '';
  return `"${name}"${unit ? ` in ${unit}` : ''}${said}`;
}

function logRows({ log, session }: Report, format: Format): Rows {
  const at = (iso: string) => format.dateTime(Date.parse(iso) / 1000);
  const [file, ...more] = log.files;
  const files = file && more.length === 0 ? file.name : `${log.files.length} files`;
  const how = log.understood.map(({ what, how }) => `${what} ${how}`).join('; ');
  return [
    ['log', `${files}, ${log.rows} rows, ${log.rows_rejected} not readable`],
    ['read as', how],
    [
      'time',
      `${at(log.start)} to ${at(log.end)} (${session.timezone}), a row each ${format.duration(log.median_step_s)}, ${format.duration(log.covered_s)} covered, ${format.duration(log.missing_s)} missing`,
    ],
  ];
}

function faultRows({ log }: Report, format: Format): Rows {
  if (log.faults.length === 0) return [['faults', 'none found in the log']];
  const shown = log.faults
    .slice(0, MOST_FAULTS)
    .map(({ kind, at, count, seconds, file, line, found }, k): [string, string] => {
      const place = [file, line].filter((part) => part !== null).join(':');
      const when = at === null ? '' : format.moment(Date.parse(at) / 1000);
      const parts = [`${kind} ×${count}`, when, place, seconds ? format.duration(seconds) : '', found ?? ''];
      return [k === 0 ? 'faults' : '', parts.filter(Boolean).join(', ')];
    });
  const more = log.faults.length - shown.length;
  return more > 0 ? [...shown, ['', `and ${more} more`]] : shown;
}

const WHAT: Readonly<Record<FittingAnswer['what'], string>> = {
  'clock-start': 'clock at fitting',
  'clock-end': 'clock at removal',
  'memory-supply': 'memory saver',
  'draw-at-start': 'draw at the start',
};

const REASON: Readonly<Record<NonNullable<FittingAnswer['reason']>, string>> = {
  'not-told': 'not written down',
  'near-whole-hours': 'off by whole hours: was the clock set to another time zone, or not to summer time?',
  'log-early': 'is the clock right, and is this the log of this fitting?',
  'log-late': 'was the clock right, was logging started late, or is this another log?',
  'not-in-log': 'it does not appear: over before the first row, or never there',
  'other-voltage': 'another voltage was there: was a charger on, or another meter off?',
  'other-sign': 'the same size with the other sign: is log.columns.current.positive right?',
  'other-draw': 'do all cables pass the sensor, is its unit right, was it set to zero?',
};

function fittingRows(fitting: readonly FittingAnswer[], format: Format): Rows {
  const noted = fitting.filter(({ reason }) => reason !== 'not-told');
  const open = fitting.filter(({ reason }) => reason === 'not-told').map(({ what }) => WHAT[what]);
  const lines = noted.map((answer) => `${WHAT[answer.what]}: ${figures(answer, format)}; ${verdict(answer)}`);
  if (open.length > 0) lines.push(`not written down: ${open.join(', ')}`);
  return lines.map((line, k) => [k === 0 ? 'fitting record' : '', line]);
}

function verdict({ agrees, reason }: FittingAnswer): string {
  if (reason === null) return 'agrees';
  return agrees === 'disagrees' ? `DOES NOT AGREE, ${REASON[reason]}` : REASON[reason];
}

function figures({ what, stated, found }: FittingAnswer, format: Format): string {
  const write = what.startsWith('clock')
    ? format.moment
    : what === 'memory-supply'
      ? format.V
      : (drawA: number | null) => format.quantity(drawA, 'A');
  const seen =
    found === null
      ? 'nothing'
      : found.low === found.high
        ? write(found.low)
        : `${write(found.low)} to ${write(found.high)}`;
  return `${write(stated)} written, ${seen} in the log`;
}

/** Faults of the fitting or the log that show while the vehicle is still there, and may be mended. */
function mendable(id: string): boolean {
  const check = checkOf(id);
  return check?.about === 'log' && check.mendable !== false;
}

function logFindings({ findings }: Report): Rows {
  return findings
    .filter(({ check, status }) => mendable(check) && (status === 'fault' || status === 'watch'))
    .map(({ check, title }, k) => [k === 0 ? 'look at first' : '', `${check}: ${title}`]);
}

/** What can be decided, and what cannot: checks that lack the same thing stand together. */
function decisionRows({ findings }: Report): Rows {
  const decided = findings.filter(({ status }) => status !== 'undecided').map(({ check }) => check);
  const byReason = new Map<string, string[]>();
  for (const { check, status, reason } of findings) {
    if (status === 'undecided') byReason.set(reason ?? '', [...(byReason.get(reason ?? '') ?? []), check]);
  }
  const cannot = [...byReason].map(([reason, checks], k): [string, string] => [
    k === 0 ? 'cannot decide' : '',
    `${checks.join(', ')}: ${firstSentence(reason)}`,
  ]);
  return [['can decide', decided.length ? decided.join(', ') : 'nothing'], ...cannot];
}

/** The report says the rest. */
function firstSentence(text: string): string {
  return /^.*?[.?!](?=\s|$)/s.exec(text)?.[0] ?? text;
}
