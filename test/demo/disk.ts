/** The real file system, as the session writer takes it. */
import { createWriteStream } from 'node:fs';
import { mkdir, writeFile } from 'node:fs/promises';
import type { DemoIo } from '../../src/demo/write-session.ts';

export const disk: DemoIo = {
  makeFolder: async (path) => {
    await mkdir(path, { recursive: true });
  },
  writeText: (path, text) => writeFile(path, text),
  createWriteStream: (path) => createWriteStream(path),
};
