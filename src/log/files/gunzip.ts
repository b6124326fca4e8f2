import { createGunzip } from 'node:zlib';

/**
 * Unzips chunk by chunk, and keeps everything that came out before a damaged or missing end: a card pulled out of a
 * logger leaves a torn file with good rows in it. Returns what was wrong, in words, or undefined.
 */
export async function* gunzip(packed: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array, string | undefined> {
  // Damage loses what had not filled a piece of output: small pieces lose little.
  const unzip = createGunzip({ chunkSize: 1 << 14 });
  let ready: Uint8Array[] = [];
  let failure: Error | undefined;
  // Not piped and not iterated: a stream that fails throws away what it has not handed out yet.
  unzip.on('data', (bytes: Uint8Array) => ready.push(bytes));
  const ended = new Promise<void>((resolve) => {
    unzip.on('end', resolve);
    unzip.on('error', (error) => {
      failure = error;
      resolve();
    });
  });
  try {
    for await (const chunk of packed) {
      if (failure !== undefined) continue; // The rest is still read, for its checksum.
      // The chunk's buffer is used again by the reader, so the unzipper must be done with it before the next.
      await Promise.race([new Promise((resolve) => unzip.write(chunk, resolve)), ended]);
      const out = ready;
      ready = [];
      yield* out;
    }
    if (failure === undefined) unzip.end();
    await ended;
    yield* ready;
  } finally {
    unzip.destroy();
  }
  if (failure === undefined) return undefined;
  return 'code' in failure && failure.code === 'Z_BUF_ERROR'
    ? 'the gz file ends too early'
    : 'the gz file is damaged: what follows could not be unpacked';
}
