/**
 * Paths that a manifest names. They come with the session folder from elsewhere, so they must stay inside it, on every
 * system: what is a plain name on Linux may be a drive, a device or a hidden stream on Windows.
 */
import { below, type Files, readable } from '../base/files.ts';
import { nearest } from '../base/nearest.ts';
import { orList, shown } from '../base/shown.ts';
import { lastOf } from '../base/there.ts';
import { isDeviceName } from './device-name.ts';

const LOG_NAME = /\.(csv|tsv|txt)(\.gz)?$|\.parquet$/i;
const LOG_KINDS = '.csv, .tsv or .txt, each also as .gz, and .parquet';

const MAX_DEPTH = 8;
const MAX_ENTRIES = 10_000;

/**
 * Why a relative path (or pattern, where `*` and `?` are wildcards) may not be used, or undefined where it may. Looks at the
 * text alone; whether a link leads outside is for `findFile` and `findLogs`.
 */
export function pathFault(path: string, wildcards: boolean): string | undefined {
  if (path.trim() === '')
    return 'Found an empty path. Expected: a path within the session folder, such as "log/day1.csv".';
  const fault =
    textFault(path) ??
    segments(path)
      .map((name) => nameFault(name, wildcards))
      .find(Boolean);
  if (fault === undefined && segments(path).length > 0) return undefined;
  return `Found ${shown(path)}: ${fault ?? 'it names no file'}. Expected: a path within the session folder, with "/" between its parts.`;
}

function textFault(path: string): string | undefined {
  if (path.length > 500) return 'it is too long';
  if (/[\p{Cc}\p{Cs}]/u.test(path)) return 'it holds a control character';
  if (path.includes('\\')) return 'it holds a backslash';
  if (/[“”„‟«»‘’‚]/.test(path)) return 'it holds a typographic quotation mark; write a straight one, or none';
  if (path.startsWith('/')) return 'it begins at the root';
  return /^[A-Za-z]:/.test(path) ? 'it names a drive' : undefined;
}

function nameFault(name: string, wildcards: boolean): string | undefined {
  if (name === '..') return 'it leads out of the folder';
  if (isDeviceName(name)) return `${shown(name)} is a device on Windows`;
  if (/[. ]$/.test(name)) return `Windows drops the point or space at the end of ${shown(name)}`;
  if ((wildcards ? /[<>:"|]/ : /[<>:"|?*]/).test(name))
    return `${shown(name)} holds a character that file names may not have on Windows`;
  return undefined;
}

function segments(path: string): string[] {
  return path.split('/').filter((name) => name !== '' && name !== '.');
}

/** A file's relative path with `/` between its parts, or what is wrong. */
export type Found = { readonly path: string } | { readonly fault: string };

/** The regular file that a path without wildcards names, inside `folder` also after following links. */
export function findFile(folder: string, path: string, files: Files): Found {
  const fault = pathFault(path, false);
  if (fault !== undefined) return { fault };
  const relative = segments(path).join('/');
  const refused = fileFault(folder, relative, files);
  return refused === undefined ? { path: relative } : { fault: refused };
}

function fileFault(folder: string, relative: string, files: Files): string | undefined {
  const refuse = (why: string) => `${shown(relative)} cannot be used: ${why}.`;
  const absolute = below(folder, relative);
  return readable(
    () => {
      const entry = files.stat(absolute);
      if (entry === undefined)
        return `There is no file ${shown(relative)} in the session folder.${neighbour(folder, relative, files)}`;
      const root = files.realpath(folder);
      const real = files.realpath(absolute);
      if (!real.startsWith(root.endsWith('/') ? root : `${root}/`))
        return refuse('a link in it leads out of the session folder');
      return entry.kind === 'file'
        ? undefined
        : refuse(entry.kind === 'folder' ? 'it is a folder' : 'it is not a regular file');
    },
    (reason) => refuse(reason),
  );
}

function neighbour(folder: string, relative: string, files: Files): string {
  const parts = relative.split('/');
  const name = parts.pop() as string;
  const parent = below(folder, ...parts);
  const names = readable(
    () => (files.stat(parent)?.kind === 'folder' ? [...files.readdir(parent)].sort() : []),
    () => [],
  );
  const near = nearest(name, names);
  return near === undefined ? '' : ` Did you mean ${shown([...parts, near].join('/'))}?`;
}

/**
 * The log files that a pattern names, in name order by code points (`log10.csv` comes before `log2.csv`). `*` stands for any run
 * of characters and `?` for one, without a `/` and without minding letter case; `**` as a whole part stands for any folders,
 * to a depth of eight. Wildcards pass over names that begin with a point.
 */
export function findLogs(folder: string, pattern: string, files: Files): { paths: string[]; faults: string[] } {
  const fault = pathFault(pattern, true);
  if (fault !== undefined) return { paths: [], faults: [fault] };
  const parts = segments(pattern);
  if (!parts.some(isWild)) {
    const found = findFile(folder, pattern, files);
    if ('fault' in found) return { paths: [], faults: [found.fault] };
    return LOG_NAME.test(found.path)
      ? { paths: [found.path], faults: [] }
      : { paths: [], faults: [`${shown(found.path)} is not a log.${instead(found.path)} Expected: ${LOG_KINDS}.`] };
  }
  const walk = walkFiles(folder, parts, files);
  const matches = walk.paths.filter((path) => matchesParts(parts, path.split('/'))).sort(byCodePoint);
  const faults = walk.fault === undefined ? [] : [walk.fault];
  const others = matches.filter((path) => !LOG_NAME.test(path));
  const [other] = others;
  if (other !== undefined) {
    const some = orList(others.slice(0, 3).map(shown));
    faults.push(
      `${shown(pattern)} also matches what is not a log: ${some}.${instead(other)} Write a narrower pattern. Expected: ${LOG_KINDS}.`,
    );
  }
  for (const path of matches) {
    const refused = fileFault(folder, path, files);
    if (refused !== undefined) faults.push(refused);
  }
  if (matches.length === 0 && faults.length === 0) {
    const seen = walk.paths.filter((path) => LOG_NAME.test(path)).slice(0, 3);
    const hint = seen.length > 0 ? ` There is ${seen.map(shown).join(', ')}.` : '';
    faults.push(`${shown(pattern)} matches no file in the session folder.${hint}`);
  }
  return { paths: faults.length > 0 ? [] : matches, faults };
}

/** What to do with what people have instead of a log. */
function instead(path: string): string {
  if (/\.(xlsx?|xlsm|ods|numbers)$/i.test(path)) return ' It is a spreadsheet: export it as CSV.';
  if (/\.(zip|7z|rar|tar|tgz|bz2|xz)$/i.test(path)) return ' It is packed: unpack it.';
  return '';
}

const isWild = (part: string) => /[*?]/.test(part);

/** Every file below the parts before the first wildcard, as deep as the pattern can reach. Follows no folder that is a link. */
function walkFiles(folder: string, parts: readonly string[], files: Files): { paths: string[]; fault?: string } {
  const fixed = parts.slice(0, parts.findIndex(isWild));
  const depth = parts.includes('**') ? MAX_DEPTH : parts.length;
  const paths: string[] = [];
  let entries = 0;
  let fault: string | undefined;

  const unreadable = (at: readonly string[]) => (reason: string) => {
    fault ??= `The folder ${shown(at.join('/') || '.')} cannot be read: ${reason}.`;
    return [];
  };
  const visit = (at: readonly string[]): void => {
    const names = readable(() => files.readdir(below(folder, ...at)), unreadable(at));
    for (const name of names) {
      if (name.startsWith('.')) continue;
      if (++entries > MAX_ENTRIES) {
        fault ??= `There are more than ${MAX_ENTRIES} files to look through.`;
        return;
      }
      const path = [...at, name];
      const absolute = below(folder, ...path);
      // Whatever cannot be looked at matters only if it matches, and is then refused like any other.
      const kind = readable(
        () => files.stat(absolute)?.kind,
        () => 'other' as const,
      );
      if (kind !== 'folder') paths.push(path.join('/'));
      else if (path.length < depth && !files.isLink(absolute)) visit(path);
    }
  };

  const start = below(folder, ...fixed);
  const state = readable(
    (): 'own' | 'linked' | 'none' => {
      if (files.stat(start)?.kind !== 'folder') return 'none';
      return files.realpath(start) === below(files.realpath(folder), ...fixed) ? 'own' : 'linked';
    },
    (reason) => {
      unreadable(fixed)(reason);
      return 'none';
    },
  );
  // A link among the fixed parts could lead anywhere: not even the names there may be listed.
  if (state === 'linked') fault = `${shown(fixed.join('/'))} cannot be used: it is reached by a link.`;
  if (state === 'own') visit(fixed);
  return fault === undefined ? { paths } : { paths: [], fault };
}

/** `reached[n]`: the parts of the pattern so far match the first `n` parts of the path. */
function matchesParts(pattern: readonly string[], path: readonly string[]): boolean {
  let reached = [true, ...path.map(() => false)];
  for (const part of pattern) {
    const next = [part === '**' && reached[0] === true];
    for (const [n, name] of path.entries()) {
      next.push(part === '**' ? reached[n + 1] || next[n] === true : reached[n] === true && matchesName(part, name));
    }
    reached = next;
  }
  return lastOf(reached);
}

/** Goes back to the last `*` only, so that no pattern can make it slow. */
function matchesName(pattern: string, name: string): boolean {
  const [wanted, given] = [pattern.toLowerCase(), name.toLowerCase()];
  let [p, n, starAt, resumeAt] = [0, 0, -1, 0];
  while (n < given.length) {
    if (wanted[p] === '*') {
      starAt = p++;
      resumeAt = n;
    } else if (wanted[p] === '?' || wanted[p] === given[n]) {
      p++;
      n++;
    } else if (starAt >= 0) {
      p = starAt + 1;
      n = ++resumeAt;
    } else return false;
  }
  while (wanted[p] === '*') p++;
  return p === wanted.length;
}

function byCodePoint(a: string, b: string): number {
  const others = Array.from(b);
  for (const [k, sign] of Array.from(a).entries()) {
    const other = others[k];
    if (other === undefined) return 1;
    if (sign !== other) return codePoint(sign) - codePoint(other);
  }
  return a === b ? 0 : -1;
}

const codePoint = (sign: string) => sign.codePointAt(0) ?? 0;
