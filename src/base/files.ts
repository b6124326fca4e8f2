/** What reading a session needs of a tree of files, wherever it lies. Paths have `/` between their parts. */

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

/** A path below a folder. */
export function below(folder: string, ...parts: readonly string[]): string {
  return parts.length === 0 ? folder : [folder.replace(/\/$/, ''), ...parts].join('/');
}

/** Runs `read`; a refusal of the system (no permission, too many links, …) becomes what `refused` makes of its short name. */
export function readable<T>(read: () => T, refused: (reason: string) => T): T {
  try {
    return read();
  } catch (error) {
    if (!(error instanceof Error && 'code' in error)) throw error;
    const code = String(error.code);
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
