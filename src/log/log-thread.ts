/**
 * A log read in a thread of its own: while one core turns bytes into samples, another analyses them. Samples come over in
 * shared memory, a few blocks ahead at most.
 */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { type Problem, UserError } from '../manifest/problem.ts';
import type { Session } from '../manifest/session.ts';
import { type BlockColumns, columnsBytes, createColumns, type LogAccount, type SampleBlock } from './block.ts';

/** Blocks that the thread may be ahead. */
const AHEAD = 8;

export interface ThreadData {
  readonly session: Session;
  readonly files: readonly string[];
  /** One for each block that may be ahead. */
  readonly buffers: readonly SharedArrayBuffer[];
  /** 1 for each buffer that waits to be used. */
  readonly full: Int32Array;
}

/** Bytes read so far, and in all. */
interface Progress {
  readonly done: number;
  readonly total: number;
}

export type Answer =
  | ({ readonly kind: 'block'; readonly buffer: number; readonly n: number } & Progress)
  | ({ readonly kind: 'read'; readonly account: LogAccount } & Progress)
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

export interface ThreadOptions {
  readonly session: Session;
  readonly files: readonly string[];
  readonly onBlock: (block: SampleBlock) => void;
  readonly onProgress?: (bytesDone: number, bytesTotal: number) => void;
}

/** Whether there can be a thread, and whether it is of use: Node starts none from TypeScript, and a single core gains nothing. */
export const hasThreads = import.meta.url.endsWith('.js') && availableParallelism() > 1;

/** As `readLog`, for files on disk. */
export async function readInThread({ session, files, onBlock, onProgress }: ThreadOptions): Promise<LogAccount> {
  const channels = session.log.channels.length;
  const buffers = Array.from({ length: AHEAD }, () => new SharedArrayBuffer(columnsBytes(channels)));
  const full = new Int32Array(new SharedArrayBuffer(AHEAD * Int32Array.BYTES_PER_ELEMENT));
  const workerData: ThreadData = { session, files, buffers, full };
  // Arguments of Node's own (a program given on the command line, say) are none of the thread's.
  const worker = new Worker(new URL('./log-thread-main.js', import.meta.url), { workerData, execArgv: [] });
  const blocks = buffers.map((buffer): BlockColumns => createColumns(channels, buffer));
  try {
    return await new Promise<LogAccount>((resolve, reject) => {
      worker.on('error', reject);
      worker.on('message', (answer: Answer) => {
        if (answer.kind === 'refused') {
          reject(new UserError(answer.problems));
          return;
        }
        try {
          if (answer.kind === 'block') {
            onBlock({ n: answer.n, ...blocks[answer.buffer] });
            Atomics.store(full, answer.buffer, 0);
            Atomics.notify(full, answer.buffer);
          }
          onProgress?.(answer.done, answer.total);
        } catch (error) {
          reject(error);
        }
        if (answer.kind === 'read') resolve(answer.account);
      });
    });
  } finally {
    await worker.terminate();
  }
}
