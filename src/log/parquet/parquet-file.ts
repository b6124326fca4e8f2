/** A log as Parquet, read row group by row group, only the columns that are wanted. */
import { type AsyncBuffer, type DecodedArray, type ParquetScan, parquetScan } from 'hyparquet';
import { compressors } from 'hyparquet-compressors';
import { plainText } from '../../base/shown.ts';
import { there } from '../../base/there.ts';
import type { Session } from '../../manifest/session.ts';
import { type LogIo, type OpenFile, readFully } from '../files/io.ts';
import type { InputOutcome, LogInput, OnRows } from '../files/log-input.ts';
import { isDate } from '../order/plausible.ts';
import { createRawRows } from '../rows/raw-rows.ts';
import { FIRST_CHANNEL, type PlacedColumn, placeColumns, wantedColumns } from '../rows/wanted.ts';
import { NO_TIMES, PARSERS, rowsOfGroup, timesOf } from './parquet-rows.ts';

const HASH_CHUNK = 1 << 20;
/** Rows looked at to see what times are like that are not of a timestamp type. */
const SAMPLE_ROWS = 400;

/** Throws UserError where the manifest and the file do not fit. A file that breaks off is told when it is read. */
export async function openParquet(io: LogIo, file: OpenFile, session: Session, name: string): Promise<LogInput> {
  const { size, mtimeMs } = await file.stat();
  let scan: ParquetScan;
  try {
    const unpackers = { ...compressors, ...io.unpackers };
    scan = await parquetScan({ file: asyncBuffer(file, size), parsers: PARSERS, compressors: unpackers });
  } catch (error) {
    return brokenInput(file, name, size, `this Parquet file cannot be read: ${messageOf(error)}`);
  }
  const leaves = scan.metadata.schema.filter((element) => element.num_children === undefined);
  const names = leaves.map((element) => element.name);
  const columns = placeColumns(wantedColumns(session), { cells: names, file: name, line: 0 });
  const columnData = (column: PlacedColumn, rowStart: number, rowEnd: number): Promise<DecodedArray> =>
    scan.readColumn({ column: there(names[column.index]), rowStart, rowEnd });

  const bomb = scan.ranges[0] && tooLarge(scan.ranges[0]);
  if (bomb) return brokenInput(file, name, size, `this Parquet file cannot be read: ${bomb}`);
  const head = scan.ranges[0] ?? { rowStart: 0, rowEnd: 0 };
  const headEnd = Math.min(head.rowEnd, head.rowStart + SAMPLE_ROWS);
  const headOf = async (kind: string): Promise<unknown[] | undefined> => {
    const column = columns.find(({ slot }) => slot.kind === kind);
    return column && Array.from(await columnData(column, head.rowStart, headEnd));
  };
  let sample: { times: unknown[]; clocks?: unknown[] };
  try {
    sample = { times: (await headOf('time')) ?? [], clocks: await headOf('clock') };
  } catch (error) {
    return brokenInput(file, name, size, `this Parquet file cannot be read: ${messageOf(error)}`);
  }
  const timeColumn = columns.find(({ slot }) => slot.kind === 'time');
  const times = timeColumn === undefined ? NO_TIMES : timesOf(session, there(leaves[timeColumn.index]), sample);
  // Without times, files keep the order of their names.
  const firstT =
    sample.times.map((time, k) => times.of(time, sample.clocks?.[k])).find((t) => t !== undefined && isDate(t)) ?? null;

  async function read(onRows: OnRows, onProgress: (bytes: number) => void): Promise<InputOutcome> {
    const sha256 = await checksum(file, size, onProgress);
    const rows = createRawRows(FIRST_CHANNEL + session.log.channels.length);
    let damage: string | undefined;
    for (const { rowStart, rowEnd } of scan.ranges) {
      try {
        const bomb = tooLarge({ rowStart, rowEnd });
        if (bomb) throw new Error(bomb);
        const data: DecodedArray[] = [];
        for (const column of columns) data.push(await columnData(column, rowStart, rowEnd));
        rowsOfGroup({ firstRow: rowStart, n: rowEnd - rowStart, data }, columns, times, rows, onRows);
      } catch (error) {
        damage ??= `rows ${rowStart + 1} to ${rowEnd} cannot be read: ${messageOf(error)}`;
      }
    }
    const after = await file.stat();
    if (after.size !== size || after.mtimeMs !== mtimeMs) damage ??= 'the file changed while it was read';
    return { sha256, ignored: 0, damage };
  }

  const groups = scan.metadata.row_groups.length;
  const form = `Parquet, ${scan.metadata.num_rows} rows in ${groups} group${groups === 1 ? '' : 's'}`;
  const understood = [
    { what: 'form', how: form },
    { what: 'times', how: times.how },
  ];
  return { name, bytes: size, firstT, zoned: times.zoned, coarse: false, columns, understood, read, close: file.close };
}

/** A group is unpacked at once: some hundred bytes can hold a thousand million rows that are all the same. */
const MOST_GROUP_ROWS = 1 << 23;
function tooLarge({ rowStart, rowEnd }: { readonly rowStart: number; readonly rowEnd: number }): string | undefined {
  return rowEnd - rowStart > MOST_GROUP_ROWS ? `more than ${MOST_GROUP_ROWS} rows in one group` : undefined;
}

/** Parquet has its table of contents at the end: without that, nothing of it can be had. */
function brokenInput(file: OpenFile, name: string, size: number, damage: string): LogInput {
  const read = async (_onRows: OnRows, onProgress: (bytes: number) => void) => {
    return { sha256: await checksum(file, size, onProgress), ignored: 0, damage };
  };
  const nothing = { firstT: null, zoned: true, coarse: false, columns: [], understood: [] };
  return { name, bytes: size, ...nothing, read, close: file.close };
}

function asyncBuffer(file: OpenFile, byteLength: number): AsyncBuffer {
  return {
    byteLength,
    async slice(start, end = byteLength) {
      const from = start < 0 ? byteLength + start : start;
      return (await readSlice(file, from, Math.min(end, byteLength) - from)).buffer;
    },
  };
}

async function readSlice(file: OpenFile, start: number, length: number): Promise<Uint8Array<ArrayBuffer>> {
  const bytes = new Uint8Array(length);
  if ((await readFully(file, bytes, start)) < length) throw new Error('it ends too early');
  return bytes;
}

async function checksum(file: OpenFile, size: number, onProgress: (bytes: number) => void): Promise<string> {
  const sum = file.checksum();
  for (let at = 0; at < size; at += HASH_CHUNK) {
    const bytes = await readSlice(file, at, Math.min(HASH_CHUNK, size - at));
    sum.update(bytes);
    onProgress(bytes.length);
  }
  return sum.digest();
}

function messageOf(error: unknown): string {
  return plainText(error instanceof Error ? error.message : String(error));
}
