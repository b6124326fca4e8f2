/** What vega draws, made small and fit to stand in a page. */
import { FONT } from './theme.ts';

export interface SvgText {
  /** Short label, and the longer alternative text: what the picture shows, in words. */
  readonly title: string;
  readonly desc: string;
  /** Letters, digits and hyphens; makes the ids in this picture unlike those of others on the same page. */
  readonly idPrefix: string;
  /** px; a narrower picture gets room at its right up to this width, so that all stand alike on the page. */
  readonly widthPx?: number;
}

const NUMBER = /-?\d+\.\d+(?:e-?\d+)?|-?\d+e-\d+/g;
const DROPPED =
  / (?:(?:class|role|aria-[a-z]+|pointer-events|xmlns:xlink|stroke-miterlimit|font-family)="[^"]*"|opacity="1")/g;

/**
 * Rounds coordinates to 0.1 px, drops what only scripts and style sheets would read, prefixes ids, and says in one place
 * what the picture is: a reader hears title and description, not hundreds of marks. Works tag by tag, so that no text
 * inside the picture can be taken for an attribute.
 */
export function tidySvg(raw: string, { title, desc, idPrefix, widthPx = 0 }: SvgText): string {
  const size = /width="([\d.]+)" height="([\d.]+)"/.exec(raw);
  if (size === null) throw new Error('vega gave no picture');
  const width = Math.max(widthPx, Math.ceil(Number(size[1])));
  const height = Math.ceil(Number(size[2]));
  const body = raw
    .replace(/<[^>]*>/g, (tag) =>
      tag
        .replace(DROPPED, '')
        .replace(/ (?:d|transform|x|y|x1|x2|y1|y2|width|height)="[^"]*"/g, (attribute) =>
          attribute.replace(NUMBER, (digits) => String(Math.round(Number(digits) * 10) / 10 + 0)),
        )
        .replace(/ id="([^"]*)"/, ` id="${idPrefix}-$1"`)
        .replace(/url\(#([^)]*)\)/g, `url(#${idPrefix}-$1)`),
    )
    .replace(/^<svg[^>]*>/, '')
    .replace(/<path[^>]* display="none"[^>]*\/>/g, '')
    .replace(/<path d="[^"]*"\/>/g, '');
  return (
    // Named by both: what is printed to PDF carries the name alone.
    `<svg role="img" aria-labelledby="${idPrefix}-title ${idPrefix}-desc" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" ` +
    `font-family="${FONT}"><title id="${idPrefix}-title">${escapeXml(title)}</title>` +
    `<desc id="${idPrefix}-desc">${escapeXml(desc)}</desc>${body}`
  );
}

const escapeXml = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
