/** The files of a comparison, as they stand in its folder of the archive; its PDF aside. */
import type { MadeComparison } from './comparison-page.ts';

/** By path in the folder. */
export function comparisonFiles({ charts, json: comparison, html }: MadeComparison): Map<string, string> {
  return new Map([
    ...charts.map(({ name, spec }) => [`charts/${name}.vl.json`, json(spec)] as const),
    ['comparison.json', json(comparison)],
    ['index.html', html],
  ]);
}

const json = (value: unknown) => `${JSON.stringify(value, null, 1)}\n`;
