/** What reading a session needs of the file system, so that tests can hand in their own. Paths are absolute. */
import { lstatSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';

export interface Entry {
  readonly kind: 'file' | 'folder' | 'other';
  readonly bytes: number;
}

export interface Files {
  readFile(path: string): Uint8Array;
  /** Follows links. Undefined where there is nothing, also behind a broken link. */
  stat(path: string): Entry | undefined;
  isLink(path: string): boolean;
  /** The path with every link resolved. */
  realpath(path: string): string;
  /** Names in a folder, in no order. */
  readdir(path: string): readonly string[];
}

export const nodeFiles: Files = {
  readFile: (path) => readFileSync(path),
  stat(path) {
    const found = statSync(path, { throwIfNoEntry: false });
    if (found === undefined) return undefined;
    return { kind: found.isFile() ? 'file' : found.isDirectory() ? 'folder' : 'other', bytes: found.size };
  },
  isLink: (path) => lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() === true,
  realpath: (path) => realpathSync(path),
  readdir: (path) => readdirSync(path),
};

/** Runs `read`; a refusal of the system (no permission, too many links, …) becomes what `refused` makes of its short name. */
export function readable<T>(read: () => T, refused: (reason: string) => T): T {
  try {
    return read();
  } catch (error) {
    const code = (error as NodeJS.ErrnoException).code;
    if (code === undefined) throw error;
    return refused(REASONS[code] ?? code);
  }
}

const REASONS: Readonly<Record<string, string>> = {
  EACCES: 'no permission to read it',
  EPERM: 'no permission to read it',
  ELOOP: 'its links lead in a circle',
  ENOENT: 'it is not there',
  ENAMETOOLONG: 'its name is too long',
  ENOTDIR: 'a part of its path is not a folder',
  EISDIR: 'it is a folder',
  EBUSY: 'another program holds it',
};
