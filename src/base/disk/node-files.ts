/** The disk as a tree of files. Windows takes `/` between the parts of a path too, and gives its own. */
import { lstatSync, readdirSync, readFileSync, realpathSync, type Stats, statSync } from 'node:fs';
import { sep } from 'node:path';
import type { Files } from '../files.ts';

export const nodeFiles: Files = {
  readFile: (path) => readFileSync(path),
  stat(path) {
    const found = statOf(path);
    if (found === undefined) return undefined;
    return { kind: found.isFile() ? 'file' : found.isDirectory() ? 'folder' : 'other', bytes: found.size };
  },
  isLink: (path) => lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() === true,
  realpath: (path) => realpathSync(path).replaceAll(sep, '/'),
  readdir: (path) => readdirSync(path),
};

/** Below a file there is nothing either. */
function statOf(path: string): Stats | undefined {
  try {
    return statSync(path, { throwIfNoEntry: false });
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code === 'ENOTDIR') return undefined;
    throw error;
  }
}
