/** The sheet that goes to the vehicle, with what the form knows already. */
import { renderFittingSheet, sheetHead } from '../report/page/fitting-sheet.ts';
import { contentOf } from './content.ts';
import { DATA } from './data.ts';

/** @param values by the manifest's path, such as `vehicle.odometer` */
export function sheetOf(values: Readonly<Record<string, string>>, language: string): string {
  const content = contentOf(language);
  const head = sheetHead((path) => values[path] || undefined, content);
  return renderFittingSheet(head, { pageSize: DATA.shop?.pageSize ?? 'a4', content });
}
