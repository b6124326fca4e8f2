/** A log as delimited text. */

import { plainText } from '../../base/shown.ts';
import type { Session } from '../../manifest/session.ts';
import { isDate } from '../order/plausible.ts';
import type { Header } from '../rows/layout.ts';
import { type Layout, sniffLayout } from '../rows/layout.ts';
import { createRowReader } from '../rows/row-reader.ts';
import { FIRST_CHANNEL } from '../rows/wanted.ts';
import type { LogIo, OpenFile } from './io.ts';
import type { LogInput, Understood } from './log-input.ts';
import { reversed, runsBackwards } from './newest-first.ts';
import { openSource, type Source } from './source.ts';

const LF = 10;
/** No row, and no header, is as long as this. */
const LONG_LINE = 1 << 14;

const DELIMITER_NAMES: Readonly<Record<string, string>> = {
  ',': 'comma',
  ';': 'semicolon',
  '\t': 'tab',
  '|': 'pipe',
  ' ': 'spaces',
};

/** Throws UserError where the manifest and the file do not fit. `like`: as for `openInput`. */
export async function openText(
  io: LogIo,
  file: OpenFile,
  session: Session,
  name: string,
  like?: Header,
): Promise<LogInput> {
  const source = await openSource(io, file, name);
  const layout = sniffLayout(session, source, like);
  return layout === undefined ? inputWithoutRows(source) : textInput(io, session, source, layout);
}

function textInput({ plainRows }: LogIo, session: Session, source: Source, layout: Layout): LogInput {
  const values = FIRST_CHANNEL + session.log.channels.length;
  const { encoding } = source;
  const { firstT, zoned, backwards } =
    session.log.stepS === undefined
      ? headTimes(source, layout, values, plainRows)
      : { firstT: null, zoned: true, backwards: false };
  return {
    name: source.name,
    bytes: source.bytes,
    firstT,
    zoned,
    coarse: layout.coarse,
    columns: layout.columns,
    header: layout.headerLine > 0 ? { file: source.name, cells: layout.header ?? [] } : undefined,
    understood: [
      ...understoodOf(session, source, layout, zoned),
      ...(backwards ? [{ what: 'order of rows', how: 'from new to old, found from the file; read from its end' }] : []),
    ],
    async read(onRows, onProgress) {
      const turned = backwards ? reversed(onRows) : undefined;
      const reader = createRowReader({ plainRows, layout, encoding, values, onRows: turned?.onRows ?? onRows });
      const chunks = source.chunks(onProgress, () => reader.gaveUp() !== undefined);
      for (;;) {
        const { done, value } = await chunks.next();
        if (!done) reader.push(value);
        else {
          const damage = reader.gaveUp() ?? value.damage;
          reader.end(damage !== undefined);
          turned?.finish();
          return { ...value, damage, ignored: reader.ignored() };
        }
      }
    },
    close: source.close,
  };
}

/** An empty file, a header alone, or nothing where rows should be: still read through, for its checksum. */
function inputWithoutRows(source: Source): LogInput {
  const { name, bytes, head } = source;
  const longLine = !source.headIsAll && head.length - head.lastIndexOf(LF) > LONG_LINE;
  const damage = longLine ? `more than ${LONG_LINE} bytes without an end of line` : undefined;
  return {
    name,
    bytes,
    firstT: null,
    zoned: true,
    coarse: false,
    columns: [],
    understood: [],
    async read(_onRows, onProgress) {
      const chunks = source.chunks(onProgress, () => true);
      for (;;) {
        const { done, value } = await chunks.next();
        if (done) return { ...value, damage: damage ?? value.damage, ignored: countLines(head) };
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

/** `firstT`: the middle time of the first rows, so that one torn row does not misplace the file. */
function headTimes(source: Source, layout: Layout, values: number, plainRows: WebAssembly.Module) {
  const times: number[] = [];
  const reader = createRowReader({
    plainRows,
    layout,
    encoding: source.encoding,
    values,
    onRows: (rows) => times.push(...rows.t.subarray(0, rows.n).filter(isDate)),
  });
  reader.push(source.head);
  reader.end(!source.headIsAll);
  const first = times.slice(0, 5).sort((a, b) => a - b);
  return { firstT: first[(first.length - 1) >> 1] ?? null, zoned: reader.zoned(), backwards: runsBackwards(times) };
}

function headerOf({ headerLine, headerFile }: Layout): string {
  if (headerLine > 0) return `line ${headerLine}`;
  return headerFile === undefined ? 'none' : `none, its columns are those of ${plainText(headerFile)}`;
}

function understoodOf(session: Session, source: Source, layout: Layout, zoned: boolean): Understood[] {
  const { log } = session;
  const found = (given: unknown) => (given === undefined ? ', found from the file' : ', from the manifest');
  const local = layout.time.kind === 'text' && !zoned ? `, local to ${session.timezone}` : '';
  return [
    { what: 'encoding', how: source.encoding + (source.gz ? ', gz' : '') },
    { what: 'delimiter', how: (DELIMITER_NAMES[layout.delimiter] ?? layout.delimiter) + found(log.delimiter) },
    { what: 'decimal sign', how: (layout.decimal === '.' ? 'point' : 'comma') + found(log.decimal) },
    { what: 'header', how: headerOf(layout) },
    { what: 'first row', how: `line ${layout.firstLine}` },
    { what: 'times', how: layout.time.how + local },
  ];
}
