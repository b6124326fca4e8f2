/**
 * Vehicles as points over the normal ranges of their model, each figure on a scale of its own: the band is the range, and as far
 * again to both sides is shown. Drawn straight to SVG, as the trends of a vehicle are.
 */
import { textWidthPx } from '../../charts/drawing/font-widths.ts';
import { BLUE, BLUE_PALE, GREY, INK, ORANGE, TEXT_PX } from '../../charts/drawing/theme.ts';
import type { Content } from '../../report/words/content.ts';
import type { Summary } from '../summary/summary.ts';
import { type FigureRow, type Placed, valueKey } from './models.ts';

const [WIDTH, ROW, TOP] = [720, 22, 8];
const PLOT = { left: 250, right: WIDTH - 120 };
const MOST_ROWS = 40;

interface PlacedSession {
  readonly summary: Summary;
  readonly places: readonly Placed[];
}

/** Null where there is nothing to place. */
export function placesSvg(
  placed: readonly PlacedSession[],
  figures: readonly FigureRow[],
  content: Content,
): string | null {
  const rows = figures.slice(0, MOST_ROWS);
  if (rows.length === 0 || placed.every(({ places }) => places.length === 0)) return null;
  const height = TOP + rows.length * ROW + 4;
  const lines = rows.map((row, k) => rowOf(row, TOP + (k + 0.5) * ROW, placed));
  const title = content.label('model.picture');
  return `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 ${WIDTH} ${height}" role="img" aria-label="${safe(title)}" font-family="Inter, sans-serif" font-size="${TEXT_PX}">${lines.join('')}</svg>`;
}

function rowOf({ key, name }: FigureRow, y: number, placed: readonly PlacedSession[]): string {
  const own = placed.flatMap(({ summary, places }) => {
    const place = places.find((one) => valueKey(one) === key);
    return place ? [{ summary, place }] : [];
  });
  const [low, high] = [PLOT.left + (PLOT.right - PLOT.left) / 3, PLOT.right - (PLOT.right - PLOT.left) / 3];
  const band = `<rect x="${px(low)}" y="${px(y - 6)}" width="${px(high - low)}" height="12" fill="${BLUE_PALE}"/>`;
  const label = `<text x="${PLOT.left - 10}" y="${px(y + 4)}" text-anchor="end" fill="${INK}">${safe(shortened(name))}</text>`;
  const points = own.map(({ place }) => {
    const x = Math.min(Math.max(along(place, low, high), PLOT.left + 4), PLOT.right - 4);
    return place.isOutside
      ? `<rect x="${px(x - 4)}" y="${px(y - 4)}" width="8" height="8" transform="rotate(45 ${px(x)} ${px(y)})" fill="${ORANGE}"/>`
      : `<circle cx="${px(x)}" cy="${px(y)}" r="3" fill="${BLUE}" fill-opacity="0.7"/>`;
  });
  const names = own
    .filter(({ place }) => place.isOutside)
    .map(({ summary }) => summary.session.vehicle.registration ?? summary.session.id);
  const outside = `<text x="${PLOT.right + 8}" y="${px(y + 4)}" fill="${GREY}">${safe(shortened([...new Set(names)].join(', '), 110))}</text>`;
  return band + label + points.join('') + (names.length > 0 ? outside : '');
}

/** A range without width has its values in its middle. */
function along({ value, range }: Placed, low: number, high: number): number {
  const width = range.high - range.low;
  return width > 0 ? low + ((value - range.low) / width) * (high - low) : (low + high) / 2;
}

const px = (value: number) => Number(value.toFixed(1));

function shortened(text: string, most = PLOT.left - 14): string {
  let short = text;
  while (short.length > 1 && textWidthPx(short, TEXT_PX) > most) short = `${short.slice(0, -2)}…`;
  return short;
}

const SIGNS: Readonly<Record<string, string>> = { '&': '&amp;', '<': '&lt;', '>': '&gt;', '"': '&quot;', "'": '&#39;' };
const safe = (text: string) => text.replaceAll(/[&<>"']/g, (sign) => SIGNS[sign] ?? sign);
