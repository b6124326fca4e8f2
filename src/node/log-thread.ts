/**
 * A log read in a thread of its own: while one core turns bytes into samples, another analyses them. Samples come over in
 * shared memory, a few blocks ahead at most.
 */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { type Problem, UserError } from '../base/problem.ts';
import { there } from '../base/there.ts';
import {
  type BlockColumns,
  columnsBytes,
  createColumns,
  type LogAccount,
  type LogFile,
  type SampleBlock,
} from '../log/block.ts';
import type { Session } from '../manifest/session.ts';
import { type QuickChecksum, sha256 } from './disk-io.ts';
import { YOUNG_MB } from './engine.ts';

/** Blocks, and pieces of files, that the thread may be ahead. */
const AHEAD = 8;
/** Bytes of a piece. */
const PIECE = 1 << 18;

/** What it is told to do, once. */
export interface ThreadTask {
  readonly session: Session;
  readonly files: readonly string[];
  readonly blocks: Slots;
  readonly pieces: Slots;
}

/** Memory that the thread fills and the other side uses, one after another. */
export interface Slots {
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
  | ({ readonly kind: 'block'; readonly slot: number; readonly n: number } & Progress)
  /** The next `n` bytes of checksum number `sum`. */
  | { readonly kind: 'piece'; readonly slot: number; readonly n: number; readonly sum: number }
  /** In place of each file's checksum stands its number. */
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

let spare: Worker | undefined;

/** Makes a thread ready for the next log: it loads what it needs while the rest of the program is still being loaded. */
export function startLogThread(): void {
  if (spare) return;
  spare = newThread();
  // While it waits it does not keep the process from ending; and one that could not start is none: the next is asked for where a fault is told.
  spare.unref();
  spare.once('error', () => {
    spare = undefined;
  });
}

function newThread(): Worker {
  // Arguments of Node's own (a program given on the command line, say) are none of the thread's.
  return new Worker(new URL('./log-thread-main.js', import.meta.url), {
    execArgv: [],
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
  });
}

function takeThread(): Worker {
  const worker = spare ?? newThread();
  spare = undefined;
  worker.ref();
  return worker;
}

/** As `readLog`, for files on disk. Checksums are taken here, where there is time for them. */
export async function readInThread({ session, files, onBlock, onProgress }: ThreadOptions): Promise<LogAccount> {
  const channels = session.log.channels.length;
  const task: ThreadTask = { session, files, blocks: slots(columnsBytes(channels)), pieces: slots(PIECE) };
  const worker = takeThread();
  const blocks = task.blocks.buffers.map((buffer): BlockColumns => createColumns(channels, buffer));
  const pieces = task.pieces.buffers.map((buffer) => new Uint8Array(buffer));
  const sums: QuickChecksum[] = [];
  const sumOf = (number: number) => (sums[number] ??= sha256());

  function take(answer: Exclude<Answer, { kind: 'refused' }>): void {
    if (answer.kind === 'piece') {
      sumOf(answer.sum).update(there(pieces[answer.slot]).subarray(0, answer.n));
      release(task.pieces, answer.slot);
      return;
    }
    if (answer.kind === 'block') {
      onBlock({ n: answer.n, ...there(blocks[answer.slot]) });
      release(task.blocks, answer.slot);
    }
    onProgress?.(answer.done, answer.total);
  }

  try {
    const account = await new Promise<LogAccount>((resolve, reject) => {
      worker.on('error', reject);
      worker.on('message', (answer: Answer) => {
        if (answer.kind === 'refused') {
          reject(new UserError(answer.problems));
          return;
        }
        try {
          take(answer);
        } catch (error) {
          reject(error);
        }
        if (answer.kind === 'read') resolve(answer.account);
      });
      worker.postMessage(task);
    });
    const withSum = (file: LogFile): LogFile => ({ ...file, sha256: sumOf(Number(file.sha256)).digest() });
    return { ...account, files: account.files.map(withSum) };
  } finally {
    await worker.terminate();
  }
}

function slots(bytes: number): Slots {
  const buffers = Array.from({ length: AHEAD }, () => new SharedArrayBuffer(bytes));
  return { buffers, full: new Int32Array(new SharedArrayBuffer(AHEAD * Int32Array.BYTES_PER_ELEMENT)) };
}

function release({ full }: Slots, slot: number): void {
  Atomics.store(full, slot, 0);
  Atomics.notify(full, slot);
}
