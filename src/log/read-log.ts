/** The log of a session: every file of it, whatever its shape, as blocks in order of time with an account of the damage. */
import { UserError } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';
import { there } from '../base/there.ts';
import { type Zone, zoneOf } from '../base/zone.ts';
import type { Session } from '../manifest/session.ts';
import type { LogAccount, LogFault, LogFile, SampleBlock } from './block.ts';
import type { LogIo } from './files/io.ts';
import type { LogInput, Understood } from './files/log-input.ts';
import { openInput } from './files/open-input.ts';
import { isLong } from './long/long-layout.ts';
import { createLedger, type Ledger } from './order/ledger.ts';
import { ranges, takeOut, takeOutNoDates } from './order/plausible.ts';
import { createSequence, type Sequence } from './order/sequence.ts';
import { createWatch } from './order/watch.ts';
import { createRangeTally, type RangeTally } from './order/wrong-unit.ts';
import type { Header } from './rows/layout.ts';
import type { RawRows } from './rows/raw-rows.ts';
import type { RowNote } from './rows/row-reader.ts';
import { toSi } from './rows/units.ts';
import { FIRST_CHANNEL } from './rows/wanted.ts';
import { type CountTimes, createCountTimes } from './time/counted.ts';
import { createLocalClock, type LocalClock } from './time/local-clock.ts';
import { inOtherOrder, refuseOrder } from './time/other-order.ts';

const NO_TIME = 'No time passes from the first row that can be used to the last. Expected: a log of two rows or more.';

export interface ReadLogOptions {
  readonly session: Session;
  /** Relative to the session folder, resolved and safe, in name order. */
  readonly files: readonly string[];
  /** Called in order of time; the arrays are used again after it returns. */
  readonly onBlock: (block: SampleBlock) => void;
  readonly onProgress?: (bytesDone: number, bytesTotal: number) => void;
  readonly io: LogIo;
}

/**
 * Throws UserError where a file cannot be opened, a column of the manifest is not in it, its form is not certain, or
 * where no file has a usable row. All else that is wrong is told in the account.
 */
export function readLog(options: ReadLogOptions): Promise<LogAccount> {
  return inSureOrder(options, (asked) => readOnce({ ...options, ...asked }));
}

/** What a reading is told but where its files lie. */
export type Asked = Omit<ReadLogOptions, 'io'>;

/** Reads once, and refuses times whose day and month could as well be the other way round. */
export async function inSureOrder(asked: Asked, read: (asked: Asked) => Promise<LogAccount>): Promise<LogAccount> {
  const { session, files } = asked;
  const account = await read(asked);
  const other = inOtherOrder(session, account);
  if (other === undefined) return account;
  // What cannot be read in the other order settles nothing.
  const unheard = { files, session: other.session, onBlock: () => {}, onProgress: undefined };
  const otherwise = await read(unheard).catch(() => undefined);
  if (otherwise !== undefined) refuseOrder(session, account, otherwise, other.pattern);
  return account;
}

/** As `readLog`, without that doubt. */
export async function readOnce(options: ReadLogOptions): Promise<LogAccount> {
  const { session, files, io } = options;
  const inputs = new Map<string, LogInput>();
  try {
    if (isLong(session)) {
      const { openLong } = await import('./long/long-input.ts');
      for (const input of await openLong(io, session, files)) inputs.set(input.name, input);
    } else await openAll(files, (name, like) => openInput(io, session, name, like), inputs);
    return await readInputs(
      options,
      files.map((name) => inputs.get(name) as LogInput),
    );
  } finally {
    for (const input of inputs.values()) await input.close();
  }
}

/** A logger may write its row of names into one of its files alone, which need not be the first by name. */
async function openAll(
  files: readonly string[],
  open: (name: string, like?: Header) => Promise<LogInput>,
  inputs: Map<string, LogInput>,
): Promise<void> {
  const refused = new Map<string, UserError>();
  let header: Header | undefined;
  for (const name of files) {
    try {
      const input = await open(name, header);
      inputs.set(name, input);
      header ??= input.header;
    } catch (error) {
      if (!(error instanceof UserError)) throw error;
      refused.set(name, error);
    }
  }
  for (const [name, error] of refused) {
    if (header === undefined) throw error;
    inputs.set(name, await open(name, header));
  }
}

async function readInputs(options: ReadLogOptions, inputs: readonly LogInput[]): Promise<LogAccount> {
  const { session, onBlock, onProgress } = options;
  const zone = zoneOf(session.timezone);
  const ordered = inTimeOrder(inputs, zone);
  const total = inputs.reduce((sum, { bytes }) => sum + bytes, 0);
  let done = 0;
  const progress = (bytes: number) => {
    done += bytes;
    onProgress?.(Math.min(done, total), total);
  };

  let startShiftS = 0;
  if (isUnset(ordered[0]?.firstT ?? null)) {
    // The log begins with a clock that was never set. Where it is set later, the rows before are known to lie before
    // that; this takes a reading of its own, which leaves nothing behind.
    const tally = createRangeTally(session);
    const unheard = { ledger: createLedger(), onBlock: () => {}, progress: () => {}, tally };
    const first = await readInOrder(ordered, { session, zone, startShiftS, ...unheard });
    startShiftS = first.sequence.unsetShiftS();
  }
  const ledger = createLedger();
  const watch = createWatch(session, ledger);
  const tally = createRangeTally(session);
  const span = { from: Number.NaN, to: Number.NaN };
  const { sequence, files, ignored } = await readInOrder(ordered, {
    session,
    zone,
    ledger,
    startShiftS,
    progress,
    tally,
    onBlock(block, ahead) {
      watch.push(block, ahead);
      if (Number.isNaN(span.from)) span.from = there(block.t[0]);
      span.to = there(block.t[block.n - 1]);
      onBlock(block);
    },
  });
  const gaps = watch.finish();
  tally.refuse();
  const listed = inputs.map((input) => files.get(input) as LogFile);
  const rows = listed.reduce((sum, file) => sum + file.rows, 0);
  const taken = sequence.taken();
  const faults = ledger.faults();
  if (taken === 0) throw noRows(listed, ledger);
  refuseRest(listed, rows, ledger.faults());
  if (!(span.to > span.from)) throw new UserError([{ file: listed[0]?.name ?? '', message: NO_TIME }]);
  return {
    files: listed,
    rows,
    rowsRejected: session.log.holdS === undefined ? rows - taken : unreadable(faults),
    linesIgnored: ignored,
    faults,
    gaps,
    understood: understood(inputs, ignored),
  };
}

/** Rows of a log with a row for each value hold no sample each: those that gave no value are counted as they were told. */
const unreadable = (faults: LogAccount['faults']) =>
  faults.reduce((sum, { kind, count }) => sum + (kind === 'unreadable-row' ? count : 0), 0);

interface Reading {
  readonly session: Session;
  readonly zone: Zone;
  readonly ledger: Ledger;
  readonly onBlock: (block: SampleBlock, ahead: number) => void;
  readonly startShiftS: number;
  readonly tally: RangeTally;
  readonly progress: (bytes: number) => void;
}

async function readInOrder(ordered: readonly LogInput[], reading: Reading) {
  const { session, zone, ledger, onBlock, startShiftS, progress, tally } = reading;
  const values = FIRST_CHANNEL + session.log.channels.length;
  const sequence = createSequence({ values, ledger, onBlock, startShiftS });
  const clock = createLocalClock(zone);
  const { startMs = 0, stepS } = session.log;
  const count = stepS === undefined ? undefined : createCountTimes(startMs / 1000, stepS);
  const files = new Map<LogInput, LogFile>();
  let ignored = 0;
  for (const input of ordered) {
    const { file, ignored: lines } = await readInput(input, {
      session,
      clock,
      count,
      ledger,
      sequence,
      progress,
      tally,
    });
    files.set(input, file);
    ignored += lines;
  }
  sequence.finish();
  return { sequence, files, ignored };
}

interface Stage {
  readonly session: Session;
  readonly clock: LocalClock;
  readonly count?: CountTimes;
  readonly ledger: Ledger;
  readonly sequence: Sequence;
  readonly tally: RangeTally;
  readonly progress: (bytes: number) => void;
}

/** Reads one file into the sequence. `rows` counts its data rows, also those that gave no sample. */
async function readInput(input: LogInput, stage: Stage): Promise<{ file: LogFile; ignored: number }> {
  const { session, clock, count, ledger, sequence, progress, tally } = stage;
  const { name, bytes } = input;
  const limits = ranges(session, input.columns);
  let rows = 0;
  sequence.startFile(name, input.coarse);

  function onRows(batch: RawRows, rowNotes: readonly RowNote[]): void {
    const notes = takeOutNoDates(batch, rowNotes);
    rows += batch.n;
    count?.(batch, notes);
    if (!input.zoned) {
      clock.toUtc(batch.t, batch.n, (kind, row, at) => {
        ledger.tell({ kind, at, file: name, line: batch.line[row] });
      });
    }
    for (const { kind, row, line, found, rejected } of notes) {
      const at = batch.t[row - 1] ?? sequence.lastT();
      ledger.tell({ kind, at, file: name, line, found });
      if (rejected) rows++;
    }
    for (const { slot } of input.columns)
      if (slot.kind === 'value') toSi(there(batch.values[slot.value]), batch.n, slot);
    for (const range of limits) {
      tally.seen(range, batch.n);
      takeOut(batch, range, (row, value) => {
        tally.takenOut(range, value);
        const found = `${plainText(range.name)}: ${value} ${range.unit}`;
        const fault = {
          kind: 'out-of-range',
          at: there(batch.t[row]),
          file: name,
          line: batch.line[row],
          found,
        } as const;
        ledger.tell({ ...fault, key: range.name });
      });
    }
    sequence.push(batch);
  }

  const outcome = await input.read(onRows, progress);
  if (outcome.damage !== undefined) {
    ledger.tell({ kind: 'cut-short', at: sequence.lastT(), file: name, found: outcome.damage, alone: true });
  }
  if (outcome.rows !== undefined) rows = outcome.rows;
  if (outcome.unreadable) {
    const { count, line, found } = outcome.unreadable;
    ledger.tell({ kind: 'unreadable-row', at: null, file: name, line, found: `no time: "${plainText(found)}"`, count });
    rows += count;
  }
  if (rows === 0) ledger.tell({ kind: 'empty', at: null, file: name, found: 'no rows' });
  return { file: { name, bytes, sha256: outcome.sha256, rows }, ignored: outcome.ignored };
}

/** Loggers whose clock was never set begin at 1970, 1980 or 2000; no log of before this day is waited for. */
const UNSET_BEFORE_S = Date.UTC(2010, 0, 1) / 1000;

function isUnset(firstT: number | null): boolean {
  return firstT !== null && firstT < UNSET_BEFORE_S;
}

/**
 * By first time; files of one time, or of none, stay in the order of their names. A file that begins with an unset
 * clock among others that do not follows the file before it in the order of names.
 */
function inTimeOrder(inputs: readonly LogInput[], zone: Zone): LogInput[] {
  const mixed = inputs.some(({ firstT }) => firstT !== null && !isUnset(firstT));
  const timed = inputs.map((input, k) => {
    const unset = mixed && isUnset(input.firstT);
    const leader = unset ? inputs.slice(0, k).findLast(({ firstT }) => !isUnset(firstT)) : input;
    return { input, start: leader === undefined ? Number.NEGATIVE_INFINITY : startOf(leader, zone) };
  });
  // Array sorting keeps the order of equals; the difference of two infinities would be no number.
  return timed.sort((a, b) => (a.start === b.start ? 0 : a.start - b.start)).map(({ input }) => input);
}

function startOf({ firstT, zoned }: LogInput, zone: Zone): number {
  if (firstT === null) return Number.POSITIVE_INFINITY;
  if (zoned) return firstT;
  const { candidates, shifted } = zone.localToUtc(firstT * 1000);
  return (candidates[0] ?? shifted ?? firstT * 1000) / 1000;
}

function noRows(files: readonly LogFile[], ledger: Ledger): UserError {
  const unreadable = ledger.faults().find(({ kind }) => kind === 'unreadable-row' || kind === 'cut-short');
  return new UserError(
    files.map(({ name, bytes, rows }) => {
      const what = bytes === 0 ? 'is empty' : rows === 0 ? 'has no rows' : `has no row that can be used`;
      const example = unreadable?.file === name && unreadable.found ? ` The first: ${unreadable.found}.` : '';
      const message = `The log ${what}.${example} Expected: rows of text with a time and a voltage, or Parquet.`;
      return { file: name, line: example === '' ? undefined : unreadable?.line, message };
    }),
  );
}

/** So much of a log that cannot be read is no damage: its form is another, and what is left by chance tells of no vehicle. Common practice, no source. */
const MOST_UNREADABLE = 0.9;
const MANY_ROWS = 1000;

function refuseRest(files: readonly LogFile[], rows: number, faults: readonly LogFault[]): void {
  const unreadable = faults.filter(({ kind }) => kind === 'unreadable-row');
  const count = unreadable.reduce((sum, fault) => sum + fault.count, 0);
  if (rows < MANY_ROWS || count < MOST_UNREADABLE * rows) return;
  const [first] = unreadable;
  const example = first?.found === undefined ? '' : ` The first: ${first.found}.`;
  const message = `${count} of ${rows} rows cannot be read, and what is left says nothing of the vehicle.${example} Expected: rows as session.yaml states them in log.columns, log.delimiter and log.decimal.`;
  throw new UserError([{ file: first?.file ?? files[0]?.name ?? '', line: first?.line, message }]);
}

/** Said once where all files agree; with the file's name where they do not. */
function understood(inputs: readonly LogInput[], ignored: number): Understood[] {
  const list: Understood[] = [];
  const filled = inputs.filter((input) => input.understood.length > 0);
  for (const [k, input] of filled.entries()) {
    for (const { what, how } of input.understood) {
      const first = filled[0]?.understood.find((other) => other.what === what);
      if (k === 0) list.push({ what, how });
      else if (first?.how !== how) list.push({ what: `${what} of ${plainText(input.name)}`, how });
    }
  }
  if (ignored > 0) list.push({ what: 'lines that are no rows', how: String(ignored) });
  return list.slice(0, 100);
}
