/** What differs between two values that came from JSON: a line each, path: old → new. */

/** Parts that two machines may round otherwise: a report has six figures. */
const ROUNDED = 2e-6;

export function moved(before: unknown, after: unknown, path = ''): string[] {
  if (typeof before === 'number' && typeof after === 'number' && alike(before, after)) return [];
  if (isTree(before) && isTree(after) && Array.isArray(before) === Array.isArray(after)) {
    const keys = [...new Set([...Object.keys(before), ...Object.keys(after)])];
    return keys.flatMap((key) => moved(before[key], after[key], path ? `${path}.${key}` : key));
  }
  return before === after ? [] : [`${path}: ${shown(before)} → ${shown(after)}`];
}

type Tree = Readonly<Record<string, unknown>>;
const isTree = (value: unknown): value is Tree => typeof value === 'object' && value !== null;
const alike = (a: number, b: number) => Math.abs(a - b) <= ROUNDED * Math.max(Math.abs(a), Math.abs(b));

function shown(value: unknown): string {
  const text = value === undefined ? 'nothing' : JSON.stringify(value);
  return text.length > 90 ? `${text.slice(0, 87)}…` : text;
}
