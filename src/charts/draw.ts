/** A Vega-Lite spec becomes an SVG: no browser, no canvas, no network, and the same bytes for the same spec. */
import * as vega from 'vega';
import { compile, type TopLevelSpec } from 'vega-lite';
import { textWidthPx } from './font-widths.ts';
import { FONT } from './theme.ts';

/** A Vega-Lite 6 top-level spec with its data inside; plain JSON. Tests hold it against Vega-Lite's published schema. */
export type Spec = Readonly<Record<string, unknown>>;

export interface SvgText {
  /** Short label, and the longer alternative text: what the picture shows, in words. */
  readonly title: string;
  readonly desc: string;
  /** Letters, digits and hyphens; makes the ids in this picture unlike those of others on the same page. */
  readonly idPrefix: string;
  /** px; a narrower picture gets room at its right up to this width, so that all stand alike on the page. */
  readonly widthPx?: number;
}

interface TextItem {
  readonly fontSize?: number;
  readonly fontWeight?: number | string;
}
/** Exported by vega, left out of its types. */
const { textMetrics } = vega as unknown as { textMetrics: { width: (item: TextItem, text: unknown) => number } };

/** Charts bring their data along; a spec that asks for anything else is a bug. */
const refuse = async (what: string): Promise<never> => {
  throw new Error(`a chart may not load ${JSON.stringify(what)}`);
};
const loader = { load: refuse, sanitize: refuse, http: refuse, file: refuse, options: {} };

/** vega numbers clip paths through one counter for the whole process, so one drawing at a time. */
let lastDrawing: Promise<unknown> = Promise.resolve();

/**
 * Draws a spec. `warn` hears what Vega-Lite and vega complain about; a sound spec gives no complaint.
 * The result is one `<svg>` element, to stand inline in HTML or (it names its namespace) in a file.
 */
export function svgOf(spec: Spec, text: SvgText, warn: (message: string) => void = () => {}): Promise<string> {
  const drawing = lastDrawing.then(async () => tidySvg(await rawSvg(spec, warn), text));
  lastDrawing = drawing.catch(() => {});
  return drawing;
}

async function rawSvg(spec: Spec, warn: (message: string) => void): Promise<string> {
  textMetrics.width = (item, text) => textWidthPx(String(text ?? ''), item.fontSize ?? 11, item.fontWeight);
  vega.resetSVGDefIds();
  const logger = loggerInto(warn);
  const compiled = compile(spec as unknown as TopLevelSpec, { logger }).spec;
  const view = new vega.View(vega.parse(compiled), { renderer: 'none', loader, logger });
  try {
    return await view.toSVG();
  } finally {
    view.finalize();
  }
}

function loggerInto(warn: (message: string) => void): vega.LoggerInterface {
  const hear = (...messages: readonly unknown[]) => {
    warn(messages.map(String).join(' '));
    return logger;
  };
  const ignore = () => logger;
  const level = ((value?: number) => (value === undefined ? 2 : logger)) as vega.LoggerInterface['level'];
  const logger: vega.LoggerInterface = { level, error: hear, warn: hear, info: ignore, debug: ignore };
  return logger;
}

const NUMBER = /-?\d+\.\d+(?:e-?\d+)?|-?\d+e-\d+/g;
const DROPPED =
  / (?:(?:class|role|aria-[a-z]+|pointer-events|xmlns:xlink|stroke-miterlimit|font-family)="[^"]*"|opacity="1")/g;

/**
 * Rounds coordinates to 0.1 px, drops what only scripts and style sheets would read, prefixes ids, and says in one place
 * what the picture is: a reader hears title and description, not hundreds of marks. Works tag by tag, so that no text
 * inside the picture can be taken for an attribute.
 */
function tidySvg(raw: string, { title, desc, idPrefix, widthPx = 0 }: SvgText): string {
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
    `<svg role="img" aria-labelledby="${idPrefix}-title" ` +
    `aria-describedby="${idPrefix}-desc" width="${width}" height="${height}" viewBox="0 0 ${width} ${height}" ` +
    `font-family="${FONT}"><title id="${idPrefix}-title">${escapeXml(title)}</title>` +
    `<desc id="${idPrefix}-desc">${escapeXml(desc)}</desc>${body}`
  );
}

const escapeXml = (text: string) =>
  text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;').replaceAll('"', '&quot;');
