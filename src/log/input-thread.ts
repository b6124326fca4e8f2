/**
 * Log files read in a thread of their own: while one core turns bytes into rows, another puts them in order and analyses
 * them. Rows come over in shared memory, a few batches ahead at most.
 */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import { type Problem, UserError } from '../manifest/problem.ts';
import type { Session } from '../manifest/session.ts';
import type { Header, InputOutcome, LogInput, OnRows } from './log-input.ts';
import { createRawRows, rawRowsBytes } from './raw-rows.ts';
import type { RowNote } from './row-reader.ts';
import { FIRST_CHANNEL } from './wanted.ts';

/** Batches that the thread may be ahead. */
const AHEAD = 8;

export interface InputThread {
  /** As `openInput` does, for a file on disk. One input is opened or read at a time. */
  open(name: string, like?: Header): Promise<LogInput>;
  /** Also in the middle of a file. */
  end(): Promise<void>;
}

export interface ThreadData {
  readonly session: Session;
  /** One for each batch of rows. */
  readonly buffers: readonly SharedArrayBuffer[];
  /** 1 for each batch that waits to be used. */
  readonly full: Int32Array;
}

/** `at`: which of the inputs, in the order in which they were opened. */
export type Request =
  | { readonly kind: 'open'; readonly name: string; readonly like?: Header }
  | { readonly kind: 'read'; readonly at: number };

export type Answer =
  | { readonly kind: 'opened'; readonly facts: Omit<LogInput, 'read' | 'close'> }
  | {
      readonly kind: 'rows';
      readonly batch: number;
      readonly n: number;
      readonly notes: RowNote[];
      readonly bytes: number;
    }
  | { readonly kind: 'read'; readonly outcome: InputOutcome; readonly bytes: number }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

type FinalAnswer = Exclude<Answer, { kind: 'rows' | 'refused' }>;

/** Undefined where it would be of no use, on a single core, or cannot be had: Node starts no thread from TypeScript. */
export function startInputThread(session: Session): InputThread | undefined {
  if (!import.meta.url.endsWith('.js') || availableParallelism() < 2) return undefined;
  const values = FIRST_CHANNEL + session.log.channels.length;
  const buffers = Array.from({ length: AHEAD }, () => new SharedArrayBuffer(rawRowsBytes(values)));
  const batches = buffers.map((buffer) => createRawRows(values, buffer));
  const full = new Int32Array(new SharedArrayBuffer(AHEAD * Int32Array.BYTES_PER_ELEMENT));
  const workerData: ThreadData = { session, buffers, full };
  // Arguments of Node's own (a program given on the command line, say) are none of the thread's.
  const worker = new Worker(new URL('./input-thread-main.js', import.meta.url), { workerData, execArgv: [] });
  let failure: Error | undefined;
  let onAnswer: (answer: Answer) => void = () => {};
  let onFailure: (error: Error) => void = () => {};
  worker.on('message', (answer: Answer) => onAnswer(answer));
  worker.on('error', (error) => {
    failure = error;
    onFailure(error);
  });
  let opened = 0;

  function ask(request: Request, onRows: OnRows, onProgress: (bytes: number) => void): Promise<FinalAnswer> {
    return new Promise((resolve, reject) => {
      if (failure !== undefined) throw failure;
      onFailure = reject;
      onAnswer = (answer) => {
        if (answer.kind === 'refused') reject(new UserError(answer.problems));
        else if (answer.kind !== 'rows') resolve(answer);
        else {
          try {
            take(answer);
          } catch (error) {
            reject(error);
          }
        }
      };
      worker.postMessage(request);
    });

    function take({ batch, n, notes, bytes }: Answer & { kind: 'rows' }): void {
      const rows = batches[batch];
      rows.n = n;
      onRows(rows, notes);
      Atomics.store(full, batch, 0);
      Atomics.notify(full, batch);
      onProgress(bytes);
    }
  }

  async function open(name: string, like?: Header): Promise<LogInput> {
    const answer = await ask(
      { kind: 'open', name, like },
      () => {},
      () => {},
    );
    if (answer.kind !== 'opened') throw new Error(`unexpected answer of the input thread: ${answer.kind}`);
    const at = opened++;
    return {
      ...answer.facts,
      async read(onRows, onProgress) {
        const end = await ask({ kind: 'read', at }, onRows, onProgress);
        if (end.kind !== 'read') throw new Error(`unexpected answer of the input thread: ${end.kind}`);
        onProgress(end.bytes);
        return end.outcome;
      },
      // The files are closed with the thread.
      close: async () => {},
    };
  }

  return {
    open,
    async end() {
      await worker.terminate();
    },
  };
}
