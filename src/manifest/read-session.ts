/** `session.yaml` as a Session, or every fault of it at once, each with its place. */
import type { z } from 'zod';
import { below, type Files, readable } from '../base/files.ts';
import { type Problem, UserError } from '../base/problem.ts';
import { shown } from '../base/shown.ts';
import { there } from '../base/there.ts';
import { type Zone, zoneOf } from '../base/zone.ts';
import { assembleSession } from './assemble.ts';
import { unknownKey } from './fields.ts';
import { findFile, findLogs } from './paths.ts';
import { checkLong, checkRelations, settleTimes, type Tell } from './relations.ts';
import { SECTIONS, type Sections } from './schema.ts';
import type { Photo, Session } from './session.ts';
import { type Path, pathText, readTree, type Tree } from './yaml-tree.ts';

export const MANIFEST = 'session.yaml';
const MAX_BYTES = 256 * 1024;

/**
 * Reads a session folder's manifest (`folder` as `files` knows it; absolute on a disk), and looks whether the logs and photos that it names are there; opens none of them.
 * Throws UserError with all problems, in the order of the file.
 */
export function readSession(folder: string, files: Files): Session {
  const tree = readTree(manifestText(folder, files), MANIFEST);
  const problems: Problem[] = [...tree.problems];
  const tell: Tell = (path, message) =>
    problems.push({ file: MANIFEST, ...tree.place(path), path: pathText(path), message });

  const sections = readSections(tree, problems);
  const zone = readZone(sections.session?.timezone ?? rawTimezone(tree.data), tell);
  const times = settleTimes(sections, zone, tell);
  checkRelations(sections, tell);
  checkLong(tree.data, tell);
  sections.log?.files.forEach((pattern, index) => {
    for (const fault of findLogs(folder, pattern, files).faults) tell(['log', 'files', index], fault);
  });
  const photos = (sections.photos ?? []).map((photo, index): Photo => {
    const isPath = typeof photo === 'string';
    const { file, text } = isPath ? { file: photo, text: undefined } : photo;
    const found = findFile(folder, file, files);
    if ('fault' in found) tell(['photos', index, ...(isPath ? [] : ['file'])], found.fault);
    const atMs = times.photosMs[index];
    const atFrom = atMs === undefined ? undefined : 'manifest';
    return { file: 'fault' in found ? file : found.path, atMs, atFrom, text };
  });

  if (problems.length > 0 || zone === undefined) throw new UserError(problems.sort(byPlace));
  // No problem was told, so every section is there.
  return assembleSession({ folder, sections: sections as Sections, times, timezone: zone.name, photos, tree });
}

/**
 * The session's log files: names relative to its folder, with `/`, in the order of `log.files` and, within a pattern, in name order
 * by code points. A file that two patterns name comes once. Throws UserError where a pattern names nothing (any more).
 */
export function resolveLogFiles(session: Session, files: Files): string[] {
  const problems: Problem[] = [];
  const names = session.log.files.flatMap((pattern, index) => {
    const { paths, faults } = findLogs(session.folder, pattern, files);
    for (const message of faults) {
      problems.push({
        file: MANIFEST,
        ...session.log.filesAt?.[index],
        path: pathText(['log', 'files', index]),
        message,
      });
    }
    return paths;
  });
  if (problems.length > 0) throw new UserError(problems);
  return [...new Set(names)];
}

/** Throws UserError where there is none, or it is no file of text of a usual size. */
export function manifestText(root: string, files: Files): string {
  const found = findFile(root, MANIFEST, files);
  if ('fault' in found) {
    const name = shown(root.split(/[\\/]/).at(-1));
    const kind = files.stat(root)?.kind;
    const hint =
      kind === 'folder'
        ? `${found.fault} "standstill init" writes one.`
        : kind === undefined
          ? `There is no folder ${name}.`
          : `${name} is a file, and no ${MANIFEST} lies beside it. Expected: a session folder; "standstill init" makes one.`;
    throw new UserError([{ file: MANIFEST, message: hint }]);
  }
  const path = below(root, MANIFEST);
  const refuse = (message: string): never => {
    throw new UserError([{ file: MANIFEST, message }]);
  };
  return readable(
    () => {
      const size = files.stat(path)?.bytes ?? 0;
      if (size > MAX_BYTES)
        return refuse(`The file has ${Math.ceil(size / 1024)} KiB. Expected: up to ${MAX_BYTES / 1024} KiB.`);
      return decode(files.readFile(path));
    },
    (reason) => refuse(`The file cannot be read: ${reason}.`),
  );
}

function decode(bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    // Where the text stops being UTF-8 is where the other encoding shows, often in a "°".
    const readableUpTo = new TextDecoder('utf-8').decode(bytes).indexOf('\ufffd');
    const line = bytes.subarray(0, readableUpTo).filter((byte) => byte === 10).length + 1;
    throw new UserError([
      { file: MANIFEST, line, message: 'The file is not UTF-8 text. Save it as UTF-8 in your editor.' },
    ]);
  }
}

/** Each section on its own, so that a fault in one hides none in another; those with faults are left out. */
function readSections(tree: Tree, problems: Problem[]): Partial<Sections> {
  const tell = (path: Path, message: string, place = tree.place(path)) =>
    problems.push({ file: MANIFEST, ...place, path: pathText(path), message });
  const known = Object.keys(SECTIONS);
  if (typeof tree.data !== 'object' || Array.isArray(tree.data)) {
    problems.push({
      file: MANIFEST,
      line: 1,
      column: 1,
      message: `Found ${shown(tree.data)}. Expected: the keys ${known.join(', ')}.`,
    });
    return {};
  }
  const data = tree.data as Readonly<Record<string, unknown>>;
  for (const key of Object.keys(data)) {
    if (!known.includes(key)) tell([key], unknownKey(key, known), tree.keyPlace([key]));
  }
  const sections: Record<string, unknown> = {};
  for (const [name, schema] of Object.entries(SECTIONS)) {
    const result = schema.safeParse(data[name]);
    if (result.success) sections[name] = result.data;
    else for (const issue of result.error.issues) tellIssue(issue, [name], tree, tell);
  }
  return sections as Partial<Sections>;
}

function tellIssue(
  issue: z.core.$ZodIssue,
  base: Path,
  tree: Tree,
  tell: (path: Path, message: string, place?: ReturnType<Tree['place']>) => void,
): void {
  const path = [...base, ...issue.path];
  if (issue.code === 'unrecognized_keys') {
    const messages = issue.message.split('\n');
    issue.keys.forEach((key, index) => {
      tell([...path, key], there(messages[index]), tree.keyPlace([...path, key]));
    });
    return;
  }
  // Of a value that may be one of several kinds, the kind that it has tells its fault.
  const meant = issue.code === 'invalid_union' ? issue.errors.find((issues) => !issues.some(isWrongKind)) : undefined;
  if (meant === undefined) tell(path, issue.message);
  else for (const inner of meant) tellIssue(inner, path, tree, tell);
}

function isWrongKind(issue: z.core.$ZodIssue): boolean {
  if (issue.path.length > 0) return false;
  return issue.code === 'invalid_union'
    ? issue.errors.every((all) => all.some(isWrongKind))
    : issue.code === 'invalid_type';
}

/** Another fault in `session` should not leave the times unchecked. */
function rawTimezone(data: unknown): string | undefined {
  const timezone = (data as { session?: { timezone?: unknown } } | undefined)?.session?.timezone;
  return typeof timezone === 'string' && timezone !== '' ? timezone : undefined;
}

function readZone(timezone: string | undefined, tell: Tell): Zone | undefined {
  if (timezone === undefined) return undefined;
  try {
    return zoneOf(timezone);
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    tell(['session', 'timezone'], error.message);
    return undefined;
  }
}

function byPlace(a: Problem, b: Problem): number {
  return (a.line ?? 0) - (b.line ?? 0) || (a.column ?? 0) - (b.column ?? 0);
}
