/** Long logs, one or several files of them, as the inputs that the reader knows: the first gives the rows of all. */
import { below } from '../../base/files.ts';
import { nearest } from '../../base/nearest.ts';
import { UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import type { LogIo } from '../files/io.ts';
import type { InputOutcome, LogInput, OnRows } from '../files/log-input.ts';
import { openSource, type Source } from '../files/source.ts';
import type { PlacedColumn } from '../rows/wanted.ts';
import { FIRST_CHANNEL } from '../rows/wanted.ts';
import { type Event, type EventsEnd, eventsOf, type Seen } from './events.ts';
import { createHolder } from './held.ts';
import { type LongLayout, longLayout } from './long-layout.ts';

interface LongFile {
  readonly source: Source;
  readonly layout: LongLayout | undefined;
}

/** Between rows that are put in while values are held, s. */
const MOST_STEP_S = 10;

/** Throws UserError where a file cannot be read or does not have the manifest's columns. */
export async function openLong(io: LogIo, session: Session, names: readonly string[]): Promise<LogInput[]> {
  const files: LongFile[] = [];
  try {
    for (const name of names) {
      const file = await io.open(below(session.folder, name)).catch((error: Error & { readonly code?: string }) => {
        throw new UserError([
          { file: name, message: `This log file cannot be read (${plainText(String(error.code))}).` },
        ]);
      });
      const source = await openSource(io, file, name);
      files.push({ source, layout: undefined });
      files[files.length - 1] = { source, layout: longLayout(session, source) };
    }
  } catch (error) {
    for (const { source } of files) await source.close();
    throw error;
  }
  const ends = new Map<LongFile, EventsEnd>();
  const zoned = files.find((file) => file.layout)?.layout?.zoned ?? true;
  const columns = files
    .find(({ layout }) => layout)
    ?.layout?.quantities.map(({ slot, ref, path, valueAt }): PlacedColumn => ({ slot, ref, path, index: valueAt }));
  return files.map((file, k) => ({
    name: file.source.name,
    bytes: file.source.bytes,
    // In the order of their names: the first gives the rows of all.
    firstT: null,
    zoned,
    coarse: false,
    columns: columns ?? [],
    understood: k > 0 || file.layout === undefined ? [] : understoodOf(session, file.layout, zoned, files.length),
    async read(onRows, onProgress) {
      if (k === 0) await readAll(session, files, onRows, onProgress, ends);
      return outcomeOf(ends.get(file));
    },
    close: file.source.close,
  }));
}

function outcomeOf(end: EventsEnd | undefined): InputOutcome {
  if (end === undefined) throw new Error('the first of the files reads all');
  return { sha256: end.sha256, ignored: end.ignored, damage: end.damage, rows: end.rows, unreadable: end.unreadable };
}

async function readAll(
  session: Session,
  files: readonly LongFile[],
  onRows: OnRows,
  onProgress: (bytes: number) => void,
  ends: Map<LongFile, EventsEnd>,
): Promise<void> {
  const seen: Seen = new Map();
  const { holdS = 0, channels } = session.log;
  const stepS = Math.min(MOST_STEP_S, Math.max(1, holdS / 10));
  const holder = createHolder(FIRST_CHANNEL + channels.length, holdS, stepS, (rows) => onRows(rows, []));
  const came = new Set<number>();
  const heads: Head[] = [];
  for (const file of files) {
    const head = await headOf(file, seen, onProgress, ends);
    if (head !== null) heads.push(head);
  }
  const quantities = files.find(({ layout }) => layout)?.layout?.quantities ?? [];
  while (heads.length > 0) {
    let first = 0;
    for (let k = 1; k < heads.length; k++)
      if (heads[k].events[heads[k].at].t < heads[first].events[heads[first].at].t) first = k;
    const head = heads[first];
    const { t, quantity, value, line } = head.events[head.at];
    came.add(quantity);
    holder.push(t, quantities[quantity].slot.value, value, line);
    if (++head.at < head.events.length) continue;
    if (!(await more(head, ends))) heads.splice(first, 1);
  }
  holder.finish();
  const lacking = quantities.filter((_, k) => !came.has(k));
  if (lacking.length === 0) return;
  const most = [...seen].sort((a, b) => b[1] - a[1]).map(([key]) => key);
  throw new UserError(
    lacking.map(({ ref, path, where }) => {
      const wanted = where.map(({ is }) => is).join(' / ');
      const near = nearest(wanted, most);
      const message = `No row of the log is of "${plainText(wanted)}".${near ? ` Did you mean "${plainText(near)}"?` : ''} It has ${most
        .slice(0, 12)
        .map((key) => `"${plainText(key)}"`)
        .join(', ')}${most.length > 12 ? ` and ${most.length - 12} more` : ''}.`;
      return { file: 'session.yaml', line: ref.at?.line, column: ref.at?.column, path: `${path}.where`, message };
    }),
  );
}

interface Head {
  readonly file: LongFile;
  readonly next: AsyncGenerator<Event[], EventsEnd>;
  events: Event[];
  at: number;
}

async function headOf(file: LongFile, seen: Seen, onProgress: (bytes: number) => void, ends: Map<LongFile, EventsEnd>) {
  if (file.layout === undefined) {
    const chunks = file.source.chunks(onProgress);
    for (;;) {
      const { done, value } = await chunks.next();
      if (!done) continue;
      ends.set(file, { ...value, rows: 0, ignored: 0, unreadable: null });
      return null;
    }
  }
  const head: Head = { file, next: eventsOf(file.source, file.layout, seen, onProgress), events: [], at: 0 };
  return (await more(head, ends)) ? head : null;
}

async function more(head: Head, ends: Map<LongFile, EventsEnd>): Promise<boolean> {
  const { done, value } = await head.next.next();
  if (done) {
    ends.set(head.file, value);
    return false;
  }
  head.events = value;
  head.at = 0;
  return true;
}

function understoodOf(session: Session, { headerLine, time, decimal }: LongLayout, zoned: boolean, files: number) {
  return [
    {
      what: 'form',
      how: `a row for each value${files > 1 ? `, ${files} files side by side` : ''}; a value stands until the next, at most ${session.log.holdS} s`,
    },
    { what: 'decimal sign', how: decimal === '.' ? 'point' : 'comma' },
    { what: 'header', how: `line ${headerLine}` },
    { what: 'times', how: time.how + (zoned ? '' : `, local to ${session.timezone}`) },
  ];
}
