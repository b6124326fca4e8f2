import { createGunzip } from 'node:zlib';
import { ENDS_EARLY, IS_DAMAGED } from '../log/files/io.ts';

/** Unpacked bytes that may wait: a megabyte of packed zeros would otherwise become a gigabyte at once. */
const MOST_READY = 1 << 20;

/** As `LogIo` asks for it. */
export async function* gunzip(
  packed: AsyncIterable<Uint8Array>,
  enough: () => boolean = () => false,
): AsyncGenerator<Uint8Array, string | undefined> {
  // Damage loses what had not filled a piece of output: small pieces lose little.
  const unzip = createGunzip({ chunkSize: 1 << 14 });
  let ready: Uint8Array[] = [];
  let readyBytes = 0;
  let full: () => void = () => {};
  let failure: Error | undefined;
  // Not piped and not iterated: a stream that fails throws away what it has not handed out yet.
  unzip.on('data', (bytes: Uint8Array) => {
    ready.push(bytes);
    readyBytes += bytes.length;
    if (readyBytes < MOST_READY) return;
    unzip.pause();
    full();
  });
  const ended = new Promise<void>((resolve) => {
    unzip.on('end', resolve);
    unzip.on('error', (error) => {
      failure = error;
      resolve();
    });
  });

  /** What comes out until `work` is done. */
  async function* outputOf(work: Promise<void>): AsyncGenerator<Uint8Array> {
    for (let done = false; !done; ) {
      const filled = new Promise<false>((resolve) => {
        full = () => resolve(false);
      });
      done = await Promise.race([filled, work.then(() => true)]);
      const out = ready;
      ready = [];
      readyBytes = 0;
      yield* out;
      if (enough()) return;
      unzip.resume();
    }
  }

  try {
    for await (const chunk of packed) {
      if (failure !== undefined || enough()) continue; // The rest is still read, for its checksum.
      // The chunk's buffer is used again by the reader, so the unzipper must be done with it before the next.
      const taken = new Promise<void>((resolve) => void unzip.write(chunk, () => resolve()));
      yield* outputOf(Promise.race([taken, ended]));
    }
    if (enough()) return undefined;
    if (failure === undefined) unzip.end();
    yield* outputOf(ended);
  } finally {
    unzip.destroy();
  }
  if (failure === undefined) return undefined;
  return 'code' in failure && failure.code === 'Z_BUF_ERROR' ? ENDS_EARLY : IS_DAMAGED;
}
