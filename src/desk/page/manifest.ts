/** `session.yaml` as the page holds it: one text, that the form shows and changes place by place. */
import { type Document, parseDocument } from 'yaml';
import type { Files } from '../../base/files.ts';
import { type Problem, UserError } from '../../base/problem.ts';
import { MANIFEST, readSession } from '../../manifest/read-session.ts';
import { ROOT } from '../files.ts';

export type Way = readonly string[];

export function valueAt(text: string, way: Way): string {
  const value = parseDocument(text).getIn(way);
  return value === undefined || value === null || typeof value === 'object' ? '' : String(value);
}

/** An empty value takes the line away, and the groups that are then empty. Comments stay. */
export function withValue(text: string, way: Way, value: string): string {
  const doc = parseDocument(text);
  if (doc.errors.length > 0) return text;
  if (value === '') takeAway(doc, way);
  else setAt(doc, way, value);
  return doc.toString({ lineWidth: 0, flowCollectionPadding: false });
}

function setAt(doc: Document, way: Way, value: string): void {
  for (let n = 1; n < way.length; n++) {
    const group = doc.getIn(way.slice(0, n));
    if (group === undefined || group === null) doc.setIn(way.slice(0, n), doc.createNode({}));
  }
  doc.setIn(way, value);
}

function takeAway(doc: Document, way: Way): void {
  if (!doc.hasIn(way)) return;
  doc.deleteIn(way);
}

/** What `check` says of the text, with only the names of the other files known. */
export function problemsOf(text: string, names: readonly string[]): readonly Problem[] {
  try {
    readSession(ROOT, filesNamed(text, names));
    return [];
  } catch (error) {
    if (error instanceof UserError) return error.problems;
    throw error;
  }
}

function filesNamed(text: string, names: readonly string[]): Files {
  const paths = new Set([MANIFEST, ...names].map((name) => `${ROOT}/${name}`));
  const folders = new Set([...paths].flatMap((path) => path.split('/').map((_, k, all) => all.slice(0, k).join('/'))));
  const bytes = new TextEncoder().encode(text);
  return {
    readFile: () => bytes,
    stat: (path) =>
      paths.has(path)
        ? { kind: 'file', bytes: path === `${ROOT}/${MANIFEST}` ? bytes.length : 1 }
        : folders.has(path)
          ? { kind: 'folder', bytes: 0 }
          : undefined,
    isLink: () => false,
    realpath: (path) => path,
    readdir: (path) => [
      ...new Set(
        [...paths].flatMap((one) => (one.startsWith(`${path}/`) ? one.slice(path.length + 1).split('/', 1) : [])),
      ),
    ],
  };
}
