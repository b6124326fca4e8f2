/** What runs in the thread that `log-thread.ts` starts. */
import { parentPort, workerData } from 'node:worker_threads';
import { UserError } from '../manifest/problem.ts';
import { copyColumns, createColumns, type SampleBlock } from './block.ts';
import { diskIo } from './io.ts';
import type { Answer, ThreadData } from './log-thread.ts';
import { readInPlace } from './read-log.ts';

const { session, files, buffers, full } = workerData as ThreadData;
const columns = buffers.map((buffer) => createColumns(session.log.channels.length, buffer));
let next = 0;
let [done, total] = [0, 0];

const send = (answer: Answer) => parentPort?.postMessage(answer);

function onBlock(block: SampleBlock): void {
  // Wait until what stood here before has been used.
  Atomics.wait(full, next, 1);
  copyColumns(block, columns[next]);
  Atomics.store(full, next, 1);
  send({ kind: 'block', buffer: next, n: block.n, done, total });
  next = (next + 1) % columns.length;
}

const onProgress = (bytesDone: number, bytesTotal: number) => {
  [done, total] = [bytesDone, bytesTotal];
};

try {
  const account = await readInPlace({ session, files, onBlock, onProgress, io: diskIo });
  send({ kind: 'read', account, done, total });
} catch (error) {
  // Anything else is a bug: it ends the thread, and is thrown where its answer is awaited.
  if (!(error instanceof UserError)) throw error;
  send({ kind: 'refused', problems: error.problems });
}
