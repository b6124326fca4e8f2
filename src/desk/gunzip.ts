/** Unpacks gz as `LogIo` asks for it. Of what stands before damage as much is kept as the command line keeps. */
import { Gunzip, ZipPassThrough } from 'fflate';
import { ENDS_EARLY, IS_DAMAGED } from '../log/files/io.ts';

/** Packed bytes put in at once: each time a browser is asked for fresh memory, which takes it a millisecond. */
const PIECE = 1 << 14;
/** Most that comes of a piece without memory being asked for anew. */
const ROOM = 1 << 20;
/** The same where they are damaged: an error loses what came of them. */
const SMALL_PIECE = 512;
/** Unpacked bytes that may wait. */
const MOST_READY = 1 << 20;
/** Unpacked bytes that the command line's unpacker hands on at once: of damaged ones, the last that are not whole are lost. */
const BLOCK = 1 << 14;

export async function* gunzip(
  packed: AsyncIterable<Uint8Array>,
  enough: () => boolean = () => false,
): AsyncGenerator<Uint8Array, string | undefined> {
  const check = createCheck();
  let ready: Uint8Array[] = [];
  let held = 0;
  let out = 0;
  let failed = false;
  let tail = new Uint8Array(0);
  let unzip = new Gunzip((bytes) => {
    ready.push(bytes);
    held += bytes.length;
    check.add(bytes);
  });
  unzip.onmember = () => check.begin();
  const room = new Uint8Array(ROOM);
  /** Unpacks into one and the same room: the library begins each time with little, and asks for twice as much until all fits. */
  function push(piece: Uint8Array): void {
    const inside = unzip as unknown as { o: Uint8Array; readonly s: { readonly b?: number } };
    room.set(inside.o.subarray(0, inside.s.b ?? 0));
    inside.o = room;
    unzip.push(piece, false);
  }
  /** Hands on what is ready: all of it, or as much as fills blocks. */
  function* handOn(wholeBlocks: boolean): Generator<Uint8Array> {
    let left = wholeBlocks ? Math.max(0, Math.floor((out + held) / BLOCK) * BLOCK - out) : held;
    const rest: Uint8Array[] = [];
    for (const bytes of ready) {
      const part = bytes.subarray(0, left);
      if (part.length < bytes.length) rest.push(bytes.subarray(part.length));
      out += part.length;
      held -= part.length;
      left -= part.length;
      if (part.length > 0) yield part;
    }
    ready = rest;
  }
  for await (const chunk of packed) {
    if (failed || enough()) continue; // The rest is still read, for its checksum.
    tail = chunk.length >= 8 ? chunk.slice(-8) : joinTail(tail, chunk);
    try {
      for (let at = 0; at < chunk.length && !enough(); at += PIECE) {
        const before = { unzip: copyOf(unzip), count: ready.length, held };
        const piece = chunk.slice(at, at + PIECE);
        try {
          push(piece);
        } catch {
          // Once more from before it, to keep what comes before the damage.
          unzip = before.unzip;
          ready.length = before.count;
          held = before.held;
          for (let k = 0; k < piece.length; k += SMALL_PIECE) push(piece.slice(k, k + SMALL_PIECE));
        }
        if (held >= MOST_READY) yield* handOn(true);
      }
    } catch {
      failed = true;
    }
    // What does not fill a block waits until the end is known to be sound.
    yield* handOn(true);
  }
  if (enough()) return undefined;
  if (failed) return IS_DAMAGED;
  try {
    unzip.push(new Uint8Array(0), true);
  } catch {
    yield* handOn(false);
    return ENDS_EARLY;
  }
  const fits = check.fits(tail);
  yield* handOn(!fits);
  return fits ? undefined : IS_DAMAGED;
}

/** As it stands now: it keeps its memory, and never writes into what it has. */
function copyOf(unzip: Gunzip): Gunzip {
  const own = Object.entries(unzip).map(([key, value]) => [key, value?.constructor === Object ? { ...value } : value]);
  return Object.assign(Object.create(Gunzip.prototype), Object.fromEntries(own));
}

function joinTail(tail: Uint8Array, chunk: Uint8Array): Uint8Array<ArrayBuffer> {
  return Uint8Array.from([...tail, ...chunk].slice(-8));
}

/** CRC-32 and length stand at the end of the file (RFC 1952, 2.3.1): those of its last member, which is held against them. */
function createCheck() {
  let member = entryOfAnArchive();
  return {
    /** A member begins. */
    begin(): void {
      member = entryOfAnArchive();
    },
    add: (bytes: Uint8Array) => member.push(bytes),
    fits(tail: Uint8Array): boolean {
      member.push(new Uint8Array(0), true);
      const view = new DataView(tail.buffer, tail.byteOffset, tail.byteLength);
      return view.getUint32(4, true) === member.size >>> 0 && view.getUint32(0, true) === member.crc >>> 0;
    },
  };
}

/** It works out both of what is put into it. */
function entryOfAnArchive(): ZipPassThrough {
  const entry = new ZipPassThrough('');
  entry.ondata = () => {};
  return entry;
}
