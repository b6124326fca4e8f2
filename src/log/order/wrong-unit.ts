/** A column of which most readings are out of range was read in a wrong unit, or is another column. */
import { type Problem, UserError } from '../../base/problem.ts';
import { plainText } from '../../base/shown.ts';
import { median } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import type { Range } from './plausible.ts';

/** So many of the readings taken out are kept, from the first on. */
const KEPT = 1000;
const MOST = 0.5;
const NEARLY_ALL = 0.95;

export interface RangeTally {
  /** A batch of so many rows. */
  seen(range: Range, rows: number): void;
  takenOut(range: Range, value: number): void;
  /** Throws UserError where a column cannot be what the manifest says. */
  refuse(): void;
}

interface Count {
  readonly range: Range;
  rows: number;
  out: number;
  readonly kept: number[];
}

export function createRangeTally(session: Session): RangeTally {
  const counts = new Map<number, Count>();
  const of = (range: Range) => {
    const count = counts.get(range.value) ?? { range, rows: 0, out: 0, kept: [] };
    counts.set(range.value, count);
    return count;
  };
  return {
    seen(range, rows) {
      of(range).rows += rows;
    },
    takenOut(range, value) {
      const count = of(range);
      count.out++;
      if (count.kept.length < KEPT) count.kept.push(value);
    },
    refuse() {
      const problems = [...counts.values()].flatMap((count) => problemOf(count, session));
      if (problems.length > 0) throw new UserError(problems);
    },
  };
}

function problemOf({ range, rows, out, kept }: Count, session: Session): Problem[] {
  if (out <= MOST * rows) return [];
  const { columns, channels } = session.log;
  const [ref, key] = [
    [columns.voltage, 'columns.voltage'] as const,
    [columns.current, 'columns.current'] as const,
    [columns.temperature, 'columns.temperature'] as const,
  ][range.value] ?? [channels[range.value - 3], `channels[${range.value - 3}]`];
  if (ref === undefined) return [];
  const middle = median(kept);
  const hint = otherUnit(range, ref.unit, middle);
  // A probe that is not there reads the same nonsense for days, and the rest of its log is good. A battery is always there.
  if (hint === undefined && (range.value !== 0 || out < NEARLY_ALL * rows)) return [];
  const share = out === rows ? 'All' : `${Math.floor((100 * out) / rows)} % of the`;
  const ask =
    hint === undefined ? 'Is it the right column, in the right unit?' : `Read as ${hint}, they would be plausible.`;
  const message = `${share} readings of "${plainText(range.name)}" are out of what can be: near ${Number(middle.toPrecision(4))} ${range.unit}, read as ${ref.unit}. ${ask}`;
  return [{ file: 'session.yaml', line: ref.at?.line, column: ref.at?.column, path: `log.${key}.unit`, message }];
}

/** @param middle in SI */
function otherUnit({ unit, low, high }: Range, declared: string, middle: number): string | undefined {
  const fits = (value: number) => value > low && value < high;
  if ((declared === 'V' || declared === 'A') && fits(middle / 1000)) return `m${unit}`;
  if (declared === '°C' && fits(middle - 273.15)) return 'K';
  return undefined;
}
