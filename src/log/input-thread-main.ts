/** What runs in the thread that `input-thread.ts` starts. */
import { parentPort, workerData } from 'node:worker_threads';
import { UserError } from '../manifest/problem.ts';
import type { Answer, Request, ThreadData } from './input-thread.ts';
import { diskIo } from './io.ts';
import type { LogInput } from './log-input.ts';
import { openInput } from './open-input.ts';
import { copyRows, createRawRows, type RawRows } from './raw-rows.ts';
import type { RowNote } from './row-reader.ts';
import { FIRST_CHANNEL } from './wanted.ts';

const { session, buffers, full } = workerData as ThreadData;
const batches = buffers.map((buffer) => createRawRows(FIRST_CHANNEL + session.log.channels.length, buffer));
const inputs: LogInput[] = [];
let batch = 0;
let bytes = 0;

const send = (answer: Answer) => parentPort?.postMessage(answer);

async function answer(request: Request): Promise<Answer> {
  if (request.kind === 'open') {
    const input = await openInput(diskIo, session, request.name, request.like);
    inputs.push(input);
    const { read: _read, close: _close, ...facts } = input;
    return { kind: 'opened', facts };
  }
  bytes = 0;
  const outcome = await inputs[request.at].read(handOn, (more) => {
    bytes += more;
  });
  return { kind: 'read', outcome, bytes };
}

function handOn(rows: RawRows, notes: readonly RowNote[]): void {
  // Wait until what stood here before has been used.
  Atomics.wait(full, batch, 1);
  copyRows(rows, batches[batch]);
  Atomics.store(full, batch, 1);
  send({ kind: 'rows', batch, n: rows.n, notes: [...notes], bytes });
  bytes = 0;
  batch = (batch + 1) % batches.length;
}

parentPort?.on('message', async (request: Request) => {
  try {
    send(await answer(request));
  } catch (error) {
    // Anything else is a bug: it ends the thread, and is thrown where its answer is awaited.
    if (!(error instanceof UserError)) throw error;
    send({ kind: 'refused', problems: error.problems });
  }
});
