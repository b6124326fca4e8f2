/** A Vega-Lite spec becomes an SVG: no browser, no canvas, no network, and the same bytes for the same spec. */
import * as vega from 'vega';
import { expressionInterpreter } from 'vega-interpreter';
import { compile, type TopLevelSpec } from 'vega-lite';
import { textWidthPx } from './font-widths.ts';
import type { SvgText } from './tidy-svg.ts';

/** A Vega-Lite 6 top-level spec with its data inside; plain JSON. Tests hold it against Vega-Lite's published schema. */
export type Spec = Readonly<Record<string, unknown>>;

/** Draws specs, wherever that is done: here, in a thread, in a page's worker. */
export interface Drawer {
  /** As `rawSvg`. */
  draw(spec: Spec): Promise<string>;
}

/** A spec as an `<svg>` element, made fit for a page. */
export type DrawSvg = (spec: Spec, text: SvgText) => Promise<string>;

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

// The interpreter takes a lone number, ms since 1970, for a year.
vega.expressionFunction('datetime', (ms: number) => new Date(ms));

/** vega numbers clip paths through one counter for the whole process, so one drawing at a time. */
let lastDrawing: Promise<unknown> = Promise.resolve();

/**
 * The picture as vega gives it: one `<svg>` element, for `tidySvg`. `warn` hears what Vega-Lite and vega complain about; a
 * sound spec gives no complaint.
 */
export function rawSvg(spec: Spec, warn: (message: string) => void = () => {}): Promise<string> {
  const drawing = lastDrawing.then(() => draw(spec, warn));
  lastDrawing = drawing.catch(() => {});
  return drawing;
}

async function draw(spec: Spec, warn: (message: string) => void): Promise<string> {
  textMetrics.width = (item, text) => textWidthPx(String(text ?? ''), item.fontSize ?? 11, item.fontWeight);
  vega.resetSVGDefIds();
  const logger = loggerInto(warn);
  const compiled = compile(spec as unknown as TopLevelSpec, { logger }).spec;
  // Interpreted, not turned into code: a page's policy may forbid that.
  const flow = vega.parse(compiled, undefined, { ast: true });
  const view = new vega.View(flow, { renderer: 'none', loader, logger, expr: expressionInterpreter });
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
