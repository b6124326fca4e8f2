/** The disk as a tree of files. Windows takes `/` between the parts of a path too, and gives its own. */
import { lstatSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { sep } from 'node:path';
import type { Files } from '../files.ts';

export const nodeFiles: Files = {
  readFile: (path) => readFileSync(path),
  stat(path) {
    const found = statSync(path, { throwIfNoEntry: false });
    if (found === undefined) return undefined;
    return { kind: found.isFile() ? 'file' : found.isDirectory() ? 'folder' : 'other', bytes: found.size };
  },
  isLink: (path) => lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() === true,
  realpath: (path) => realpathSync(path).replaceAll(sep, '/'),
  readdir: (path) => readdirSync(path),
};
