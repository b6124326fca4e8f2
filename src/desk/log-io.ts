/** Logs as the page was given them, read ahead of whoever asks. */
import type { LogIo } from '../log/files/io.ts';
import { asRefusal, type Given, missing, ROOT } from './files.ts';
import type { LogChecksum } from './hash.ts';

/** Single reads of a browser cost a millisecond and more, however small they are. */
const WINDOW = 4 << 20;

/** @param checksum of a file of so many bytes */
export function logIoOf(
  given: readonly Given[],
  brought: Omit<LogIo, 'open'>,
  checksum: (size: number) => LogChecksum,
): LogIo {
  const files = new Map(given.map(({ path, file }) => [`${ROOT}/${path}`, file]));
  return {
    ...brought,
    async open(path) {
      const file = files.get(path) ?? missing(path);
      const windows = new Map<number, Promise<Uint8Array>>();
      let sum: LogChecksum | undefined;
      const windowAt = (at: number): Promise<Uint8Array> => {
        const known = windows.get(at);
        if (known) return known;
        const read = file.slice(at, at + WINDOW).arrayBuffer();
        const bytes = read.then((buffer) => new Uint8Array(buffer), asRefusal);
        // Whoever asks hears of it; one that was read ahead may never be asked for.
        bytes.catch(() => {});
        windows.set(at, bytes);
        return bytes;
      };
      let end = 0;
      return {
        stat: async () => ({ size: file.size, mtimeMs: file.lastModified ?? 0 }),
        async read(buffer, length, position) {
          await sum?.ready();
          const at = position - (position % WINDOW);
          // In the order of the file, the next is fetched while this one is worked on.
          const inOrder = position === end;
          for (const known of windows.keys()) if (known < at || known > at + WINDOW) windows.delete(known);
          const bytes = await windowAt(at);
          if (inOrder && at + WINDOW < file.size) void windowAt(at + WINDOW);
          const part = bytes.subarray(position - at, position - at + length);
          buffer.set(part);
          end = position + part.length;
          return part.length;
        },
        checksum() {
          sum = checksum(file.size);
          return sum;
        },
        close: async () => windows.clear(),
      };
    },
  };
}
