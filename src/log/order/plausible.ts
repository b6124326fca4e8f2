/** Readings that no battery and no sensor in its range can give: they are taken out, and told. */
import type { Session } from '../../manifest/session.ts';
import type { RawRows } from '../rows/raw-rows.ts';
import type { PlacedColumn } from '../rows/wanted.ts';

// Common practice, no source: wide of anything a vehicle does, close enough to catch a loose plug or a wrong unit.
const MOST_TIMES_SYSTEM_V = 3.5;
const LEAST_V = -1;
const MOST_A = 5000;
const MOST_TIMES_RANGE = 1.5;
const LEAST_C = -60;
const MOST_C = 150;

export interface Range {
  /** Index among the value columns. */
  readonly value: number;
  readonly name: string;
  readonly unit: string;
  readonly low: number;
  readonly high: number;
}

/** In SI, for the columns that the log has. */
export function ranges(session: Session, columns: readonly PlacedColumn[]): Range[] {
  const highV = MOST_TIMES_SYSTEM_V * session.vehicle.systemV;
  const rangeA = session.log.columns.current?.rangeA;
  const highA = rangeA === undefined ? MOST_A : Math.min(MOST_A, MOST_TIMES_RANGE * rangeA);
  return columns.flatMap(({ slot, ref }) => {
    if (slot.kind !== 'value') return [];
    const { value } = slot;
    const name = String(ref.name);
    if (value === 1) return [{ value, name, unit: 'A', low: -highA, high: highA }];
    if (value === 2) return [{ value, name, unit: '°C', low: LEAST_C, high: MOST_C }];
    const drop = session.log.channels[value - 3]?.measures === 'drop';
    return [{ value, name, unit: 'V', low: drop ? -highV : LEAST_V, high: highV }];
  });
}

/** Puts NaN in place of readings out of range. */
export function takeOut(rows: RawRows, range: Range, tell: (row: number, value: number) => void): void {
  const column = rows.values[range.value];
  const { low, high } = range;
  for (let row = 0; row < rows.n; row++) {
    const value = column[row];
    if (value < low || value > high) {
      tell(row, value);
      column[row] = Number.NaN;
    }
  }
}
