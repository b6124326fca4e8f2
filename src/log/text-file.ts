/** A log as delimited text. */
import type { Session } from '../manifest/session.ts';
import type { OpenFile } from './io.ts';
import { type Layout, sniffLayout } from './layout.ts';
import type { LogInput, Understood } from './log-input.ts';
import { createRowReader } from './row-reader.ts';
import { openSource, type Source } from './source.ts';
import { FIRST_CHANNEL } from './wanted.ts';

const DELIMITER_NAMES: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'pipe',
  ' ': 'spaces',
};

/** Throws UserError where the manifest and the file do not fit. */
export async function openText(file: OpenFile, session: Session, name: string): Promise<LogInput> {
  const source = await openSource(file, name);
  const layout = sniffLayout(session, source);
  return layout === undefined ? emptyInput(source) : textInput(session, source, layout);
}

function textInput(session: Session, source: Source, layout: Layout): LogInput {
  const values = FIRST_CHANNEL + session.log.channels.length;
  const { encoding } = source;
  const { firstT, zoned } = firstRow(source, layout, values);
  return {
    name: source.name,
    bytes: source.bytes,
    firstT,
    zoned,
    coarse: layout.coarse,
    columns: layout.columns,
    understood: understoodOf(session, source, layout, zoned),
    async read(onRows, onProgress) {
      const reader = createRowReader({ layout, encoding, values, onRows });
      const chunks = source.chunks(onProgress);
      for (;;) {
        const { done, value } = await chunks.next();
        if (!done) reader.push(value);
        else {
          reader.end(value.damage !== undefined);
          return { ...value, ignored: reader.ignored() };
        }
      }
    },
    close: source.close,
  };
}

/** An empty file, or a header alone: still read through, for its checksum. */
function emptyInput(source: Source): LogInput {
  return {
    name: source.name,
    bytes: source.bytes,
    firstT: null,
    zoned: true,
    coarse: false,
    columns: [],
    understood: [],
    async read(_onRows, onProgress) {
      const ignored = countLines(source.head);
      const chunks = source.chunks(onProgress);
      for (;;) {
        const { done, value } = await chunks.next();
        if (done) return { ...value, ignored };
      }
    },
    close: source.close,
  };
}

function countLines(bytes: Uint8Array): number {
  let lines = bytes.length > 0 && bytes[bytes.length - 1] !== 10 ? 1 : 0;
  for (const byte of bytes) if (byte === 10) lines++;
  return lines;
}

/** The middle time of the first rows, so that one torn row does not misplace the file. */
function firstRow(source: Source, layout: Layout, values: number): { firstT: number | null; zoned: boolean } {
  const times: number[] = [];
  const reader = createRowReader({
    layout,
    encoding: source.encoding,
    values,
    onRows: (rows) => times.push(...rows.t.subarray(0, Math.max(0, Math.min(rows.n, 5 - times.length)))),
  });
  reader.push(source.head);
  reader.end(!source.headIsAll);
  times.sort((a, b) => a - b);
  return { firstT: times[(times.length - 1) >> 1] ?? null, zoned: reader.zoned() };
}

function understoodOf(session: Session, source: Source, layout: Layout, zoned: boolean): Understood[] {
  const { log } = session;
  const found = (given: unknown) => (given === undefined ? ', found from the file' : ', from the manifest');
  const local = layout.time.kind === 'text' && !zoned ? `, local to ${session.timezone}` : '';
  return [
    { what: 'encoding', how: source.encoding + (source.gz ? ', gz' : '') },
    { what: 'delimiter', how: (DELIMITER_NAMES[layout.delimiter] ?? layout.delimiter) + found(log.delimiter) },
    { what: 'decimal sign', how: (layout.decimal === '.' ? 'point' : 'comma') + found(log.decimal) },
    { what: 'header', how: layout.headerLine === 0 ? 'none' : `line ${layout.headerLine}` },
    { what: 'first row', how: `line ${layout.firstLine}` },
    { what: 'times', how: layout.time.how + local },
  ];
}
