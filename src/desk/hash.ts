/** SHA-256 of logs as they are read: of small ones in the worker that reads, of large ones in a worker of their own. */
import { bytesToHex } from '@noble/hashes/utils.js';
import type { Checksum } from '../log/files/io.ts';
import { DATA } from './data.ts';

/** A checksum that may fall behind the reading. */
export interface LogChecksum extends Checksum {
  /** Resolves when so little is waiting that more may be read. */
  ready(): Promise<void>;
}

/** Of a file of so many bytes. */
export type Hash = (size: number) => LogChecksum;

interface Assembly {
  readonly memory: WebAssembly.Memory;
  state(): number;
  begin(): void;
  blocks(at: number, count: number): void;
}

const BLOCK = 64;
const PAGE = 1 << 16;
/** Bytes put in at once. */
const ROOM = 1 << 20;

/** `assembly/sha256.ts` at work. */
export function createSha256(): Checksum {
  const { memory, state, begin, blocks } = new WebAssembly.Instance(assembly()).exports as unknown as Assembly;
  const at = memory.buffer.byteLength;
  memory.grow((ROOM + BLOCK) / PAGE + 1);
  const room = new Uint8Array(memory.buffer, at, ROOM + BLOCK);
  let held = 0;
  let length = 0;
  begin();
  const put = (bytes: Uint8Array): void => {
    for (let from = 0; from < bytes.length; ) {
      const part = bytes.subarray(from, from + ROOM - held);
      room.set(part, held);
      held += part.length;
      from += part.length;
      const whole = Math.floor(held / BLOCK);
      blocks(at, whole);
      room.copyWithin(0, whole * BLOCK, held);
      held -= whole * BLOCK;
    }
  };
  return {
    update(bytes) {
      length += bytes.length;
      put(bytes);
    },
    digest() {
      // FIPS 180-4, 5.1.1: a one, noughts, and the length in bits.
      const end = new Uint8Array(BLOCK * (held < BLOCK - 8 ? 1 : 2) - held);
      end[0] = 0x80;
      new DataView(end.buffer).setBigUint64(end.length - 8, BigInt(length) * 8n);
      put(end);
      const words = new DataView(memory.buffer, state(), 32);
      const hash = new Uint8Array(32);
      for (let k = 0; k < 32; k += 4) new DataView(hash.buffer).setUint32(k, words.getUint32(k, true));
      return bytesToHex(hash);
    },
  };
}

let module: WebAssembly.Module | undefined;

function assembly(): WebAssembly.Module {
  module ??= new WebAssembly.Module(Uint8Array.from(atob(DATA.sha256), (sign) => sign.charCodeAt(0)));
  return module;
}

/** A worker takes about as long to start as this takes to hash. */
const LARGE = 8 << 20;
/** Lots of `ROOM` bytes that may wait for a worker. */
const MOST_AWAY = 8;

/** @param elsewhere has a worker answer at the other end with `answerHashes` */
export function checksumOf(elsewhere: (port: MessagePort) => void): Hash {
  return (size) => {
    if (size < LARGE) return { ...createSha256(), ready: async () => {} };
    const { port1, port2 } = new MessageChannel();
    elsewhere(port2);
    return remote(port1);
  };
}

/** Bytes on their way to the hasher; what is sent back is the same, to be filled again. */
interface Lot {
  readonly bytes: Uint8Array<ArrayBuffer>;
  readonly length: number;
}
type FromHasher = Lot | { readonly hash: string };

/** The same few lots go to and fro: new ones for a whole log would be most of the cost. */
function remote(port: MessagePort): LogChecksum {
  const free: Uint8Array<ArrayBuffer>[] = [];
  let away = 0;
  let lot = new Uint8Array(ROOM);
  let held = 0;
  let wake = () => {};
  let tell = (_hash: string) => {};
  const hashed = new Promise<string>((resolve) => {
    tell = resolve;
  });
  port.onmessage = ({ data }: MessageEvent<FromHasher>) => {
    if ('hash' in data) return tell(data.hash);
    free.push(data.bytes);
    away -= 1;
    wake();
  };
  const send = () => {
    port.postMessage({ bytes: lot, length: held } satisfies Lot, [lot.buffer]);
    away += 1;
    lot = free.pop() ?? new Uint8Array(ROOM);
    held = 0;
  };
  return {
    update(bytes) {
      for (let from = 0; from < bytes.length; ) {
        const part = bytes.subarray(from, from + ROOM - held);
        lot.set(part, held);
        held += part.length;
        from += part.length;
        if (held === ROOM) send();
      }
    },
    digest() {
      send();
      port.postMessage(null);
      return hashed;
    },
    async ready() {
      while (away > MOST_AWAY)
        await new Promise<void>((resolve) => {
          wake = resolve;
        });
    },
  };
}

/** In a worker of its own; resolves with the end. */
export function answerHashes(port: MessagePort): Promise<void> {
  const hash = createSha256();
  return new Promise((resolve) => {
    port.onmessage = ({ data }: MessageEvent<Lot | null>) => {
      if (data) {
        hash.update(data.bytes.subarray(0, data.length));
        port.postMessage(data, [data.bytes.buffer]);
      } else {
        port.postMessage({ hash: hash.digest() as string });
        resolve();
      }
    };
  });
}
