/** What runs in the thread that `log-thread.ts` starts. */
import { parentPort } from 'node:worker_threads';
import { UserError } from '../base/problem.ts';
import { there } from '../base/there.ts';
import { copyColumns, createColumns, type SampleBlock } from '../log/block.ts';
import type { Checksum, LogIo } from '../log/files/io.ts';
import { readOnce } from '../log/read-log.ts';
import { diskIo } from './disk-io.ts';
import { setEngine } from './engine.ts';
import type { Answer, Slots, ThreadTask } from './log-thread.ts';

setEngine();
parentPort?.once('message', answer);

const send = (message: Answer) => parentPort?.postMessage(message);

async function answer({ session, files, blocks, pieces }: ThreadTask): Promise<void> {
  const columns = blocks.buffers.map((buffer) => createColumns(session.log.channels.length, buffer));
  const nextBlock = turns(blocks);
  let [done, total] = [0, 0];
  const onBlock = (block: SampleBlock) =>
    nextBlock((slot) => {
      copyColumns(block, there(columns[slot]));
      send({ kind: 'block', slot, n: block.n, done, total });
    });
  const onProgress = (bytesDone: number, bytesTotal: number) => {
    [done, total] = [bytesDone, bytesTotal];
  };
  const checksum = checksums(pieces);
  const io: LogIo = { ...diskIo, open: async (path) => ({ ...(await diskIo.open(path)), checksum }) };
  try {
    const account = await readOnce({ session, files, onBlock, onProgress, io });
    send({ kind: 'read', account, done, total });
  } catch (error) {
    // Anything else is a bug: it ends the thread, and is thrown where its answer is awaited.
    if (!(error instanceof UserError)) throw error;
    send({ kind: 'refused', problems: error.problems });
  }
}

/** They hand the bytes on; the number of each stands for the checksum. */
function checksums(pieces: Slots): () => Checksum {
  const bytesOf = pieces.buffers.map((buffer) => new Uint8Array(buffer));
  const pieceBytes = there(bytesOf[0]).length;
  const nextPiece = turns(pieces);
  let sums = 0;
  return () => {
    const sum = sums++;
    return {
      update(bytes) {
        for (let at = 0; at < bytes.length; at += pieceBytes) {
          const piece = bytes.subarray(at, at + pieceBytes);
          nextPiece((slot) => {
            there(bytesOf[slot]).set(piece);
            send({ kind: 'piece', slot, n: piece.length, sum });
          });
        }
      },
      digest: () => String(sum),
    };
  };
}

/** Gives the slots in turn, each when what stood in it before has been used, to `fill`. */
function turns({ buffers, full }: Slots): (fill: (slot: number) => void) => void {
  let next = 0;
  return (fill) => {
    Atomics.wait(full, next, 1);
    Atomics.store(full, next, 1);
    fill(next);
    next = (next + 1) % buffers.length;
  };
}
