/** The session folder that a person means: the folder itself, or the path of its manifest or of a log in it. */
import { existsSync, statSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { MANIFEST } from '../manifest/read-session.ts';

/** How far below its session folder a log lies at the most. */
const MOST_DEEP = 4;

/** The path as given where nothing better is there: what reads it says what is missing. */
export function sessionFolder(path: string): string {
  if (!isFile(path)) return path;
  let folder = dirname(path);
  for (let deep = 0; deep < MOST_DEEP; deep++, folder = dirname(folder)) {
    if (existsSync(join(folder, MANIFEST))) return folder;
  }
  return path;
}

function isFile(path: string): boolean {
  return statSync(path, { throwIfNoEntry: false })?.isFile() === true;
}
