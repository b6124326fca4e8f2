/** A log read in a worker of its own: while it turns bytes into samples, the one that asked analyses them. */
import { type Problem, UserError } from '../base/problem.ts';
import { columnsBytes, copyColumns, createColumns, type LogAccount } from '../log/block.ts';
import type { LogIo } from '../log/files/io.ts';
import { type Asked, inSureOrder, readOnce } from '../log/read-log.ts';
import type { Session } from '../manifest/session.ts';
import type { Given } from './files.ts';

/** Blocks that may wait to be analysed. */
const AHEAD = 8;
/** A worker takes about as long to start as this takes to read. */
const LARGE = 24 << 20;
/** Bytes of a log that may come of a packed one. */
const PACKED = 6;

interface Order {
  readonly session: Session;
  readonly files: readonly string[];
}

type FromReader =
  | { readonly kind: 'block'; readonly n: number; readonly buffer: ArrayBuffer }
  | { readonly kind: 'progress'; readonly done: number; readonly total: number }
  | { readonly kind: 'read'; readonly account: LogAccount }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] };

/** Memory of a block that has been used. */
type ToReader = Order | ArrayBuffer;

/**
 * As `readLog`.
 *
 * @param elsewhere has a worker answer at the other end with `answerReader`
 */
export function readGiven(
  asked: Asked,
  given: readonly Given[],
  io: LogIo,
  elsewhere: (port: MessagePort) => void,
): Promise<LogAccount> {
  const sizes = new Map(given.map(({ path, file }) => [path, file.size]));
  const bytesOf = (name: string) => (sizes.get(name) ?? 0) * (/\.gz$/i.test(name) ? PACKED : 1);
  const isShort = asked.files.reduce((sum, name) => sum + bytesOf(name), 0) < LARGE;
  return inSureOrder(asked, (one) => (isShort ? readOnce({ ...one, io }) : readElsewhere(one, elsewhere)));
}

async function readElsewhere(
  { session, files, onBlock, onProgress }: Asked,
  elsewhere: (port: MessagePort) => void,
): Promise<LogAccount> {
  const { port1: port, port2 } = new MessageChannel();
  elsewhere(port2);
  const channels = session.log.channels.length;
  const send = (message: ToReader, ...moved: Transferable[]) => port.postMessage(message, moved);
  try {
    return await new Promise((resolve, reject) => {
      port.onmessage = ({ data }: MessageEvent<FromReader>) => {
        try {
          if (data.kind === 'block') {
            onBlock({ n: data.n, ...createColumns(channels, data.buffer) });
            send(data.buffer, data.buffer);
          } else if (data.kind === 'progress') onProgress?.(data.done, data.total);
          else if (data.kind === 'read') resolve(data.account);
          else reject(new UserError(data.problems));
        } catch (error) {
          reject(error);
        }
      };
      send({ session, files });
    });
  } finally {
    port.close();
  }
}

/** In a worker of its own; resolves with the end. @param ioOf is told when more may be read */
export async function answerReader(port: MessagePort, ioOf: (mayReadOn: () => Promise<void>) => LogIo): Promise<void> {
  const free: ArrayBuffer[] = [];
  let away = 0;
  // More than one may wait: what is packed is read ahead while it is unpacked.
  const waiting: (() => void)[] = [];
  const send = (message: FromReader, ...moved: Transferable[]) => port.postMessage(message, moved);
  const order = await new Promise<Order>((resolve) => {
    port.onmessage = ({ data }: MessageEvent<ToReader>) => {
      if (!(data instanceof ArrayBuffer)) return resolve(data);
      free.push(data);
      away -= 1;
      for (const go of waiting.splice(0)) go();
    };
  });
  async function mayReadOn(): Promise<void> {
    while (away >= AHEAD) await new Promise<void>((resolve) => waiting.push(resolve));
  }
  const channels = order.session.log.channels.length;
  let told = 0;
  try {
    const account = await readOnce({
      ...order,
      io: ioOf(mayReadOn),
      onBlock(block) {
        const buffer = free.pop() ?? new ArrayBuffer(columnsBytes(channels));
        copyColumns(block, createColumns(channels, buffer));
        away += 1;
        send({ kind: 'block', n: block.n, buffer }, buffer);
      },
      onProgress(done, total) {
        if (done < total && performance.now() - told < 100) return;
        told = performance.now();
        send({ kind: 'progress', done, total });
      },
    });
    send({ kind: 'read', account });
  } catch (error) {
    // Anything else is a bug: the page hears of it from this worker, and ends both.
    if (!(error instanceof UserError)) throw error;
    send({ kind: 'refused', problems: error.problems });
  }
}
