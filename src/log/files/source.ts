/** Bytes of one log file as the row reader wants them: unzipped, agreeing with ASCII, lines ended by LF. */
import { joined } from '../../base/bytes.ts';
import { type Encoding, recoder, sniffEncoding } from '../rows/encoding.ts';
import { type LogIo, type OpenFile, readFully } from './io.ts';

const CHUNK = 1 << 20;
/** Enough to find the header, the decimal sign and the form of the times, also below long preambles. */
export const HEAD_BYTES = 1 << 17;
const LF = 10;
const CR = 13;

export interface Source {
  readonly name: string;
  /** Bytes on disk when it was opened; what is appended later is not read. */
  readonly bytes: number;
  readonly gz: boolean;
  readonly encoding: Encoding;
  /** The first bytes, as `chunks` gives them. */
  readonly head: Uint8Array;
  /** True when `head` is the whole file. */
  readonly headIsAll: boolean;
  /**
   * The whole file from its start. A chunk is only good until the next is asked for. Once `enough`, no more come, and what
   * is left is read for the checksum alone.
   */
  chunks(onRaw: (bytes: number) => void, enough?: () => boolean): AsyncGenerator<Uint8Array, ReadOutcome>;
  close(): Promise<void>;
}

export interface ReadOutcome {
  readonly sha256: string;
  /** What was wrong with the file as a whole, in words. */
  readonly damage?: string;
}

export async function openSource({ gunzip }: Pick<LogIo, 'gunzip'>, file: OpenFile, name: string): Promise<Source> {
  const { size, mtimeMs } = await file.stat();
  const magic = new Uint8Array(2);
  const gz = (await readFully(file, magic, 0)) === 2 && magic[0] === 0x1f && magic[1] === 0x8b;
  const nothing = () => {};
  const { bytes: raw, all } = await readHead(plainChunks(file, size, gz ? gunzip : undefined, nothing, () => false));
  const { encoding, bomBytes } = sniffEncoding(raw);
  const recode = recoder(encoding);
  const head = joined([recode.next(raw.subarray(bomBytes)), all ? recode.end() : new Uint8Array(0)]);
  // Very old machines end lines with CR alone.
  const crOnly = head.includes(CR) && !head.includes(LF);
  if (crOnly) crToLf(head);

  return {
    name,
    bytes: size,
    gz,
    encoding,
    head,
    headIsAll: all,
    chunks: (onRaw, enough = () => false) =>
      textChunks(file, { size, mtimeMs, gunzip: gz ? gunzip : undefined, encoding, bomBytes, crOnly }, onRaw, enough),
    close: file.close,
  };
}

interface TextForm {
  readonly size: number;
  readonly mtimeMs: number;
  /** Where it is packed. */
  readonly gunzip: LogIo['gunzip'] | undefined;
  readonly encoding: Encoding;
  readonly bomBytes: number;
  readonly crOnly: boolean;
}

async function* textChunks(
  file: OpenFile,
  form: TextForm,
  onRaw: (bytes: number) => void,
  enough: () => boolean,
): AsyncGenerator<Uint8Array, ReadOutcome> {
  const checksum = file.checksum();
  const onChunk = (raw: Uint8Array) => {
    checksum.update(raw);
    onRaw(raw.length);
  };
  const plain = plainChunks(file, form.size, form.gunzip, onChunk, enough);
  const recode = recoder(form.encoding);
  let bom = form.bomBytes;
  let damage: string | undefined;
  for (;;) {
    const { done, value } = await plain.next();
    if (done) {
      damage = value;
      break;
    }
    if (enough()) continue;
    const skipped = Math.min(bom, value.length);
    bom -= skipped;
    const text = recode.next(value.subarray(skipped));
    if (form.crOnly) crToLf(text);
    if (text.length > 0) yield text;
  }
  const rest = recode.end();
  if (rest.length > 0 && !enough()) yield rest;
  const after = await file.stat();
  if (after.size !== form.size || after.mtimeMs !== form.mtimeMs) {
    damage = `the file changed while it was read (${form.size} bytes, then ${after.size})`;
  }
  return { sha256: await checksum.digest(), damage };
}

/** Bytes as written by the logger; returns what was wrong with the packing, if anything. */
async function* plainChunks(
  file: OpenFile,
  size: number,
  gunzip: LogIo['gunzip'] | undefined,
  onRaw: (raw: Uint8Array) => void,
  enough: () => boolean,
): AsyncGenerator<Uint8Array, string | undefined> {
  const raw = rawChunks(file, size, onRaw);
  if (gunzip) return yield* gunzip(raw, enough);
  yield* raw;
  return undefined;
}

/** Two buffers take turns, so that the disk works while the last chunk is looked at. */
async function* rawChunks(file: OpenFile, size: number, onRaw: (raw: Uint8Array) => void): AsyncGenerator<Uint8Array> {
  const length = Math.min(CHUNK, size);
  let [buffer, other] = [new Uint8Array(length), new Uint8Array(length)];
  let position = 0;
  let pending = file.read(buffer, length, 0);
  try {
    for (;;) {
      const n = await pending;
      if (n === 0) return;
      position += n;
      const chunk = buffer.subarray(0, n);
      [buffer, other] = [other, buffer];
      const left = Math.min(CHUNK, size - position);
      pending = left > 0 ? file.read(buffer, left, position) : Promise.resolve(0);
      onRaw(chunk);
      yield chunk;
    }
  } finally {
    // A reader who stops early must not close the file under a read; that read's failure no longer matters.
    await pending.catch(() => 0);
  }
}

async function readHead(
  chunks: AsyncGenerator<Uint8Array, string | undefined>,
): Promise<{ bytes: Uint8Array; all: boolean }> {
  const parts: Uint8Array[] = [];
  let length = 0;
  for await (const chunk of chunks) {
    parts.push(chunk.slice());
    length += chunk.length;
    // An even cut, so that no UTF-16 unit is torn.
    if (length > HEAD_BYTES) return { bytes: joined(parts).subarray(0, HEAD_BYTES), all: false };
  }
  return { bytes: joined(parts), all: true };
}

function crToLf(bytes: Uint8Array): void {
  for (let at = bytes.indexOf(CR); at >= 0; at = bytes.indexOf(CR, at + 1)) bytes[at] = LF;
}
