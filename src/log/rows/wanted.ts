/** Which columns of a log the manifest wants, and where they stand in a file. */
import { nearest } from '../../base/nearest.ts';
import { type Problem, UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import type { ColumnRef, Session } from '../../manifest/session.ts';
import { contradicts } from './unit-in-name.ts';

/** `value`: index among v, i, temp, then the channels. */
export type Slot =
  | { readonly kind: 'time' }
  | { readonly kind: 'clock' }
  | {
      readonly kind: 'value';
      readonly value: number;
      readonly unit: string;
      /** Into SI: reading × `factor` ÷ `divisor` + `offset`. */
      readonly factor: number;
      readonly divisor: number;
      readonly offset: number;
    };

export interface WantedColumn {
  readonly slot: Slot;
  readonly ref: ColumnRef;
  /** Manifest path, for messages. */
  readonly path: string;
}

export interface PlacedColumn extends WantedColumn {
  /** 0-based. */
  readonly index: number;
}

/** v, i, temp; channels follow. */
export const FIRST_CHANNEL = 3;

export function wantedColumns(session: Session): WantedColumn[] {
  const { columns, channels } = session.log;
  const { time, voltage, current, temperature } = columns;
  const wanted: WantedColumn[] = [];
  if (time !== undefined) wanted.push({ slot: { kind: 'time' }, ref: time, path: 'log.columns.time' });
  if (time?.clock !== undefined) {
    const ref = { name: time.clock, at: time.at };
    wanted.push({ slot: { kind: 'clock' }, ref, path: 'log.columns.time.clock' });
  }
  wanted.push({ slot: valueSlot(0, voltage.unit), ref: voltage, path: 'log.columns.voltage' });
  if (current !== undefined) {
    const sign = current.positive === 'charging' ? 1 : -1;
    wanted.push({ slot: valueSlot(1, current.unit, sign), ref: current, path: 'log.columns.current' });
  }
  if (temperature !== undefined) {
    wanted.push({ slot: valueSlot(2, temperature.unit), ref: temperature, path: 'log.columns.temperature' });
  }
  for (const [k, channel] of channels.entries()) {
    wanted.push({ slot: valueSlot(FIRST_CHANNEL + k, channel.unit), ref: channel, path: `log.channels[${k}]` });
  }
  return wanted;
}

function valueSlot(value: number, unit: string, sign = 1): Slot {
  const slot = { kind: 'value', value, unit, factor: sign, divisor: 1, offset: 0 } as const;
  if (unit === 'mV' || unit === 'mA') return { ...slot, divisor: 1000 };
  if (unit === 'K') return { ...slot, offset: -273.15 };
  // Exact at 32 °F and 212 °F: (F − 32) × 5 ÷ 9 is written as F × 5 ÷ 9 − 160 ÷ 9.
  if (unit === '°F') return { ...slot, factor: 5, divisor: 9, offset: -160 / 9 };
  return slot;
}

/** How many wanted names stand in a line's cells; names given as numbers do not count. */
export function namesIn(cells: readonly string[], wanted: readonly WantedColumn[]): number {
  const header = new Set(cells.map(plainName));
  return wanted.filter(({ ref }) => typeof ref.name === 'string' && header.has(plainName(ref.name))).length;
}

/**
 * The columns' places, in the order of the file.
 * Throws UserError that names every column that is not there, with the header found and the nearest name.
 */
export function placeColumns(
  wanted: readonly WantedColumn[],
  header: { readonly cells: readonly string[]; readonly file: string; readonly line: number },
): PlacedColumn[] {
  const names = header.cells.map(plainName);
  const problems: Problem[] = [];
  const placed: PlacedColumn[] = [];
  for (const column of wanted) {
    const { ref, path } = column;
    const place = { file: 'session.yaml', line: ref.at?.line, column: ref.at?.column, path };
    const index = typeof ref.name === 'number' ? ref.name - 1 : names.indexOf(plainName(ref.name));
    const has = `${header.file} has ${columnList(header.cells)}${header.line > 0 ? ` (line ${header.line})` : ''}.`;
    const twin = placed.find((other) => other.index === index);
    if (index < 0 || index >= names.length) {
      const near = typeof ref.name === 'string' ? nearest(ref.name, names) : undefined;
      const hint = near === undefined ? '' : ` Did you mean "${plainText(near)}"?`;
      const what = typeof ref.name === 'number' ? `number ${ref.name}` : `"${plainText(ref.name)}"`;
      const byNumber =
        header.line > 0 ? '' : ' Where a log has no header row, name columns by their number, from 1 on the left.';
      problems.push({ ...place, message: `There is no column ${what} in the log: ${has}${hint}${byNumber}` });
    } else if (typeof ref.name === 'string' && names.indexOf(plainName(ref.name), index + 1) >= 0) {
      const message = `Two columns of the log are called "${plainText(ref.name)}": give the number of the one that is meant, from 1 on the left.`;
      problems.push({ ...place, message });
    } else if (twin !== undefined) {
      problems.push({ ...place, message: `This column of the log is already taken for ${twin.path}.` });
    } else {
      placed.push({ ...column, index });
      const stated =
        typeof ref.name === 'string' && column.slot.kind === 'value' && contradicts(ref.name, column.slot.unit);
      if (stated)
        problems.push({
          ...place,
          path: `${path}.unit`,
          message: wrongUnit(column, stated, `"${plainText(String(ref.name))}"`, index),
        });
    }
  }
  if (placed.length === 0 && problems.length > 1) throw new UserError([nothingThere(wanted, header)]);
  if (problems.length > 0) throw new UserError(problems);
  return placed.sort((a, b) => a.index - b.index);
}

/** @param where what states the other unit: a name, or a cell below it */
export function wrongUnit({ slot }: WantedColumn, stated: string, where: string, index: number): string {
  const said = slot.kind === 'value' ? slot.unit : '';
  return `The manifest says ${said}, and the log says ${stated}: ${where}. Correct the unit, or, where the log is wrong, name the column by its number, ${index + 1}.`;
}

/** Control characters, other than those that part lines and cells. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: these are what is looked for
const NO_TEXT = /[\u0000-\u0008\u000e-\u001a\u001c-\u001f\u007f-\u0084\u0086-\u009f]/;

/** One problem in place of the same one for every column. */
function nothingThere(wanted: readonly WantedColumn[], header: { cells: readonly string[]; file: string }): Problem {
  const names = wanted.map(({ ref }) => (typeof ref.name === 'number' ? `number ${ref.name}` : plainText(ref.name)));
  if (header.cells.some((cell) => NO_TEXT.test(cell))) {
    const what = 'This file is no text: it holds what no line of text does. Is it a log, or the logger’s own format?';
    return {
      file: header.file,
      path: 'log.files',
      message: `${what} Expected: text, gz of it, and Parquet, as the logger’s software exports them.`,
    };
  }
  const message = `None of the columns of the manifest is in this log (${names.join(', ')}). It has ${columnList(header.cells)}. Expected: text with a row of names, text without one where the manifest numbers the columns, gz of either, and Parquet.`;
  return { file: header.file, path: 'log.columns', message };
}

function columnList(cells: readonly string[]): string {
  const shownCells = cells.slice(0, 12).map((cell) => `"${plainText(cell.trim())}"`);
  const more = cells.length > 12 ? ` and ${cells.length - 12} more` : '';
  return cells.length === 1 ? `one column, ${shownCells[0]}` : `the columns ${shownCells.join(', ')}${more}`;
}

function plainName(name: string): string {
  return name
    .replace(/^\uFEFF/, '')
    .trim()
    .normalize('NFC');
}
