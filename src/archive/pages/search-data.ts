/** The archive's sessions as its page's script reads them: every text once, rows of numbers into those texts. */
import type { Content } from '../../report/words/content.ts';
import type { Row } from './rows.ts';

/** JSON that may stand in a script element. Texts of a row are in the order that `scripts/archive.js` names. */
export function searchData(rows: readonly Row[], content: Content): string {
  const texts: string[] = [''];
  const numbers = new Map<string, number>([['', 0]]);
  const numberOf = (text: string | null): number => {
    const known = numbers.get(text ?? '');
    if (known !== undefined) return known;
    numbers.set(text ?? '', texts.length);
    return texts.push(text ?? '') - 1;
  };
  const data = rows.map((row) => [
    ...[row.id, row.title, row.concern, row.vehicle, row.vehicleName, row.vehicleFolder, row.repairOrder].map(numberOf),
    ...[row.technician, row.day, row.date, row.purpose, content.label(`purpose.${row.purpose}`)].map(numberOf),
    ...[row.status, content.label(`status.${row.status}`), row.checks.join(' '), row.headlines.join('\n')].map(
      numberOf,
    ),
  ]);
  return JSON.stringify({ texts, rows: data }).replaceAll('<', '\\u003c');
}
