/** Times of a log that has none: rows counted from its start. A row that cannot be read keeps its place. */
import type { RawRows } from '../rows/raw-rows.ts';
import type { RowNote } from '../rows/row-reader.ts';

export type CountTimes = (batch: RawRows, notes: readonly RowNote[]) => void;

/** Goes on counting from file to file. */
export function createCountTimes(startS: number, stepS: number): CountTimes {
  let counted = 0;
  return (batch, notes) => {
    const lost = notes.filter(({ rejected }) => rejected);
    let next = 0;
    for (let row = 0; row < batch.n; row++) {
      for (; (lost[next]?.row ?? Number.POSITIVE_INFINITY) <= row; next++) counted++;
      batch.t[row] = startS + counted * stepS;
      counted++;
    }
    counted += lost.length - next;
    // Without times, rows that look the same are no row written twice.
    batch.twin.fill(0, 0, batch.n);
  };
}
