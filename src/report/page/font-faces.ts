/** The letters of all pages. */
import type { Content } from '../words/content.ts';

/** Latin, and Greek for the Ω, in the three weights used; static files, since variable ones print badly. */
export function fontFaces({ font }: Pick<Content, 'font'>): string {
  const ranges = { latin: 'U+0000-036F, U+2000-22FF', greek: 'U+0370-03FF' };
  return Object.entries(ranges)
    .flatMap(([subset, range]) =>
      [400, 600, 700].map((weight) => {
        const data = font(`inter-${subset}-${weight}-normal.woff2`);
        return `@font-face { font-family: Inter; font-weight: ${weight}; src: url(data:font/woff2;base64,${data}) format("woff2"); unicode-range: ${range}; }`;
      }),
    )
    .join('\n');
}
