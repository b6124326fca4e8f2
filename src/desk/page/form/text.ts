/** `session.yaml` as the page holds it: one text, that the form shows and changes place by place. */
import { type Document, isMap, isScalar, isSeq, parseDocument } from 'yaml';
import type { Files } from '../../../base/files.ts';
import { type Problem, UserError } from '../../../base/problem.ts';
import { MANIFEST, readSession } from '../../../manifest/read-session.ts';
import { ROOT } from '../../files.ts';
import { FIELDS, type Field, LISTS, nameOf, type Way } from './fields.ts';

export type Value = string | number | boolean;

/** What the form shows of a text: parsed once, asked often. */
export interface Shown {
  /** Empty where there is none. */
  value(field: Field): string;
  /** Items of a list. */
  count(way: Way): number;
}

export function shownOf(text: string): Shown {
  const doc = parseDocument(text);
  const at = (way: Way): unknown => (doc.contents === null ? undefined : doc.getIn(way));
  return {
    value({ way, alone }) {
      const whole = alone ? at(way.slice(0, -1)) : undefined;
      const value = whole !== undefined && whole !== null && typeof whole !== 'object' ? whole : at(way);
      return value === undefined || value === null || typeof value === 'object' ? '' : String(value);
    },
    count(way) {
      const list = at(way);
      return isSeq(list) ? list.items.length : 0;
    },
  };
}

/** The text with one value changed; an empty one takes the line away, and groups that are then empty. Comments stay. */
export function withValue(text: string, { way, alone }: Field, value: Value): string {
  return changed(text, (doc) => {
    // A value that stood for its group becomes one of the group's.
    const group = way.slice(0, -1);
    const whole = alone ? undefined : doc.getIn(group);
    if (isPlain(whole)) doc.setIn(group, doc.createNode({ [mainKeyOf(group)]: whole }));
    if (value === '') takeAway(doc, way, alone);
    else if (alone && !isMap(doc.getIn(group))) doc.setIn(made(doc, group), value);
    else doc.setIn(made(doc, way), value);
  });
}

/** With one item more, or, at the number of one that is there, without it. */
export function withItem(text: string, way: Way, item: Readonly<Record<string, Value>> | null, at?: number): string {
  return changed(text, (doc) => {
    if (item === null) doc.deleteIn([...way, at ?? 0]);
    else {
      if (!isSeq(doc.getIn(made(doc, way)))) doc.setIn(way, doc.createNode([]));
      doc.addIn(way, doc.createNode(item));
    }
  });
}

/** With the value of a whole key, such as `log`, from another text. */
export function withPart(text: string, way: Way, other: string): string {
  return changed(text, (doc) => doc.setIn(made(doc, way), parseDocument(other).getIn(way, true)));
}

/** With the names of the logs that there are. */
export function withLogs(text: string, names: readonly string[]): string {
  return changed(text, (doc) => doc.setIn(made(doc, ['log', 'files']), doc.createNode([...names], { flow: true })));
}

function changed(text: string, change: (doc: Document) => void): string {
  const doc = parseDocument(text);
  if (doc.errors.length > 0) return text;
  change(doc);
  return doc.toString({ lineWidth: 0, flowCollectionPadding: false });
}

const isPlain = (value: unknown) => value !== undefined && value !== null && typeof value !== 'object';

/** Of a group that a value may stand for: the key that this value has there. */
function mainKeyOf(group: Way): string {
  const before = `${nameOf(group)}.`;
  const main = [...FIELDS, ...LISTS.flatMap(({ fields }) => fields)].find(
    ({ alone, name }) => alone && name.startsWith(before),
  );
  return String(main?.way.at(-1));
}

/** The way, with the groups on it there. */
function made(doc: Document, way: Way): Way {
  for (let n = 1; n < way.length; n++) {
    const group = doc.getIn(way.slice(0, n), true);
    if (group === undefined || (isScalar(group) && group.value === null))
      doc.setIn(way.slice(0, n), doc.createNode({}));
  }
  return way;
}

function takeAway(doc: Document, way: Way, alone: boolean): void {
  const group = way.slice(0, -1);
  if (alone && isPlain(doc.getIn(group))) doc.deleteIn(group);
  else if (doc.hasIn(way)) doc.deleteIn(way);
  for (let n = way.length - 1; n > 1; n--) {
    const above = doc.getIn(way.slice(0, n));
    if (isMap(above) && above.items.length === 0 && typeof way[n - 1] === 'string') doc.deleteIn(way.slice(0, n));
  }
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
        [...paths].flatMap((one) =>
          one.startsWith(`${path}/`) ? [one.slice(path.length + 1).replace(/\/.*/, '')] : [],
        ),
      ),
    ],
  };
}
