/** Where the words of a drawn chart stand. */
import { textWidthPx } from '../../src/charts/drawing/font-widths.ts';

export interface Text {
  readonly words: string;
  /** px in the picture. */
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}

/** Of an SVG as `svgOf` gives it: groups and texts are moved, never turned or scaled. */
export function textsOf(svg: string): Text[] {
  const places: { x: number; y: number }[] = [{ x: 0, y: 0 }];
  const texts: Text[] = [];
  for (const [, closing, name, attributes, own, inner] of svg.matchAll(
    /<(\/)?(g|svg|text)\b([^>]*?)(\/)?>(?:((?:[^<]|<tspan[^>]*>|<\/tspan>)*)<\/text>)?/g,
  )) {
    if (closing) {
      places.pop();
      continue;
    }
    const [, dx = 0, dy = 0] = /transform="translate\(([-\d.]+),\s*([-\d.]+)\)/.exec(attributes)?.map(Number) ?? [];
    const at = { x: places[places.length - 1].x + dx, y: places[places.length - 1].y + dy };
    if (name !== 'text' || inner === undefined) {
      if (!own && name !== 'text') places.push(at);
      continue;
    }
    const px = Number(/font-size="([\d.]+)/.exec(attributes)?.[1] ?? 11);
    const weight = /font-weight="(\w+)"/.exec(attributes)?.[1];
    const lines = inner.split(/<tspan[^>]*>/).map((line) => line.replace(/<[^>]*>/g, ''));
    const width = Math.max(...lines.map((line) => textWidthPx(line, px, weight)));
    const anchor = /text-anchor="(\w+)"/.exec(attributes)?.[1] ?? 'start';
    const left = at.x - (anchor === 'end' ? width : anchor === 'middle' ? width / 2 : 0);
    const shown = lines.filter((line) => line.trim() !== '');
    if (shown.length === 0 || /opacity="0"/.test(attributes)) continue;
    const bottom = at.y + (shown.length - 1) * 13;
    texts.push({ words: shown.join(' '), left, right: left + width, top: at.y - 0.75 * px, bottom: bottom + 1 });
  }
  return texts;
}

/** Pairs of texts that stand on each other. */
export function overlapping(texts: readonly Text[]): string[] {
  return texts.flatMap((a, k) =>
    texts
      .slice(k + 1)
      .filter((b) => a.left < b.right && b.left < a.right && a.top < b.bottom && b.top < a.bottom)
      .map((b) => `${a.words} / ${b.words}`),
  );
}
