/**
 * YAML text as plain data, with the place of every key and value. Every scalar keeps what was written: a number or
 * a boolean stays one only where writing it out again gives the same text, so that `00123` or `1e5` remain a part number.
 */
import { type Document, isAlias, isMap, isScalar, isSeq, LineCounter, type Node, parseDocument } from 'yaml';
import { type Problem, UserError } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';
import { yamlMessage } from './yaml-words.ts';

export interface Place {
  readonly line: number;
  readonly column: number;
}

export type Path = readonly PropertyKey[];

export interface Tree {
  /** Objects (without a prototype), arrays, strings, numbers, booleans; undefined for a key without a value. */
  readonly data: unknown;
  /** Where a key stands. */
  keyPlace(path: Path): Place | undefined;
  /** Where a value begins; for one that is missing, the key that it should stand under. */
  place(path: Path): Place;
  /** What does not hinder reading on, such as a key that stands twice. */
  readonly problems: readonly Problem[];
}

const MAX_DEPTH = 12;
const MAX_PROBLEMS = 20;
/** The parser dies of these (without an exception) when they go on for thousands. */
const TOO_NESTED = /^[ \t]{200}|(?:[-?:][ \t]+){50}/m;

/** Throws UserError, with every place, for what is not YAML or uses what a manifest has no need of (aliases, tags). */
export function readTree(text: string, file: string): Tree {
  const lines = new LineCounter();
  const placeAt = (offset: number): Place => {
    const { line, col } = lines.linePos(offset);
    return { line: Math.max(line, 1), column: Math.max(col, 1) };
  };
  const document = parse(text, file, lines);
  const places = new Map<string, Place>();
  const keyPlaces = new Map<string, Place>();
  const fatal: Problem[] = [];
  const problems: Problem[] = [];

  const written = text.split('\n');
  for (const error of tellingErrors(document.errors, placeAt)) {
    const place = placeAt(error.pos[0]);
    const line = written[place.line - 1] ?? '';
    const problem = {
      file,
      ...place,
      message: yamlMessage(error.code, error.message, line, written[place.line] ?? ''),
    };
    (error.code === 'DUPLICATE_KEY' ? problems : fatal).push(problem);
  }

  function refuse(node: Node | null, path: Path, message: string): undefined {
    fatal.push({ file, ...placeAt(node?.range?.[0] ?? 0), path: pathText(path), message });
  }

  function walk(node: Node | null, path: Path): unknown {
    if (node === null || (isScalar(node) && node.value === null)) return undefined;
    places.set(pathKey(path), placeAt(node.range?.[0] ?? 0));
    if (isAlias(node)) return refuse(node, path, 'Aliases (*name) are not supported here: write the value out.');
    if (node.tag !== undefined)
      return refuse(node, path, 'Tags (!name) are not supported here: write the plain value.');
    if (path.length > MAX_DEPTH) return refuse(node, path, 'Nested too deep for a manifest.');
    if (isSeq(node)) return node.items.map((item, index) => walk(item as Node | null, [...path, index]));
    if (isMap(node)) return walkMap(node.items as readonly MapItem[], path);
    return isScalar(node) ? scalarValue(node.value, node.source) : undefined;
  }

  function walkMap(items: readonly MapItem[], path: Path): unknown {
    const data: Record<string, unknown> = Object.create(null);
    /** The value that a comma may have cut, and where it ends so far. */
    let cut: { readonly name: string; readonly end: number } | undefined;
    for (const { key, value } of items) {
      if (!isScalar(key)) {
        refuse(key, path, 'A key must be plain text.');
        continue;
      }
      const name = key.source ?? String(key.value);
      const [start, end] = key.range ?? [0, 0];
      if (value === null && cut !== undefined && isPlain(key)) {
        // In braces a comma ends a value: `{text: Locked, bonnet closed}` has a key "bonnet closed" without a value. No key of
        // a manifest stands without one, so what is meant is the text as written.
        const comma = text.slice(cut.end, start);
        data[cut.name] = `${data[cut.name]}${comma.includes('\n') ? ', ' : comma}${name}`;
        cut = { name: cut.name, end };
        continue;
      }
      cut = isPlain(value) ? { name, end: value?.range?.[1] ?? 0 } : undefined;
      keyPlaces.set(pathKey([...path, name]), placeAt(start));
      data[name] = walk(value, [...path, name]);
    }
    return data;
  }

  const data = fatal.length > 0 ? undefined : walk(document.contents as Node | null, []);
  if (fatal.length > 0) throw new UserError(firstOf([...problems, ...fatal], file));

  return {
    data,
    problems: firstOf(problems, file),
    keyPlace: (path) => keyPlaces.get(pathKey(path)),
    place(path) {
      for (let length = path.length; length > 0; length--) {
        const key = pathKey(path.slice(0, length));
        // A value that is there has a place of its own; of what is missing, the nearest key above shows where it belongs.
        const place =
          length === path.length ? (places.get(key) ?? keyPlaces.get(key)) : (keyPlaces.get(key) ?? places.get(key));
        if (place !== undefined) return place;
      }
      return { line: 1, column: 1 };
    },
  };
}

/** `log.channels[0].name` */
export function pathText(path: Path): string {
  return path
    .map((part, index) =>
      typeof part === 'number' ? `[${part}]` : `${index > 0 ? '.' : ''}${plainText(String(part))}`,
    )
    .join('');
}

interface MapItem {
  readonly key: Node;
  readonly value: Node | null;
}

function parse(text: string, file: string, lineCounter: LineCounter): Document {
  const nested = TOO_NESTED.exec(text);
  const tooDeep = (offset?: number) => {
    const line = offset === undefined ? undefined : text.slice(0, offset).split('\n').length;
    return new UserError([{ file, line, message: 'Nested too deep for a manifest.' }]);
  };
  if (nested !== null) throw tooDeep(nested.index);
  try {
    return parseDocument(text, { lineCounter, prettyErrors: false, version: '1.2', schema: 'core', logLevel: 'error' });
  } catch (error) {
    // The parser calls itself for each level of nesting: thousands of them exhaust the stack.
    if (error instanceof RangeError) throw tooDeep();
    throw error;
  }
}

function scalarValue(value: unknown, source: string | undefined): unknown {
  if (value === null) return undefined;
  if (typeof value === 'string') return value;
  const written = source ?? String(value);
  return (typeof value === 'number' || typeof value === 'boolean') && String(value) === written ? value : written;
}

type YamlError = Document['errors'][number];

/** What a tab makes of the lines after it, and what the parser says twice of one line, is no other problem. */
function tellingErrors(errors: readonly YamlError[], placeAt: (offset: number) => Place): readonly YamlError[] {
  const tabs = errors.filter(({ code }) => code === 'TAB_AS_INDENT');
  const seen = new Set<string>();
  return (tabs.length > 0 ? tabs : errors).filter((error) => {
    const kind = error.code === 'MULTILINE_IMPLICIT_KEY' ? 'BLOCK_AS_IMPLICIT_KEY' : error.code;
    const key = `${kind} ${placeAt(error.pos[0]).line}`;
    const isNew = !seen.has(key);
    seen.add(key);
    return isNew;
  });
}

function firstOf(problems: readonly Problem[], file: string): Problem[] {
  if (problems.length <= MAX_PROBLEMS) return [...problems];
  const more = { file, message: `And ${problems.length - MAX_PROBLEMS} more like these.` };
  return [...problems.slice(0, MAX_PROBLEMS), more];
}

function isPlain(node: Node | null | undefined): boolean {
  return isScalar(node) && node.type === 'PLAIN' && node.value !== null;
}

function pathKey(path: Path): string {
  return path.map(String).join('\u0000');
}
