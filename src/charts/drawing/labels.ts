/** Labels that do not run into each other. */
import { textWidthPx } from './font-widths.ts';
import { PLOT, TEXT_PX } from './theme.ts';

const ROOM_PX = 6;

/**
 * Those of `labels` that have room on one line, each centred on its own place; the first ones given matter most and are
 * placed first. `place` gives the centre in px; none may run over the end of the plot, where a limit has its words.
 */
export function withRoom<L extends { readonly label: string }>(labels: readonly L[], place: (label: L) => number): L[] {
  const placed: { from: number; to: number; label: L }[] = [];
  for (const label of labels) {
    const half = (textWidthPx(label.label, TEXT_PX) + ROOM_PX) / 2;
    const [from, to] = [place(label) - half, place(label) + half];
    if (to <= PLOT && placed.every((other) => to <= other.from || from >= other.to)) placed.push({ from, to, label });
  }
  return placed.map(({ label }) => label);
}

/** Place in px of a value on a horizontal axis that spans `domain` over `widthPx`. */
export function pxAlong(value: number, domain: readonly [number, number], widthPx: number): number {
  return ((value - domain[0]) / (domain[1] - domain[0])) * widthPx;
}
