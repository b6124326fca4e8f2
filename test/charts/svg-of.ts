import { rawSvg, type Spec } from '../../src/charts/drawing/draw.ts';
import { type SvgText, tidySvg } from '../../src/charts/drawing/tidy-svg.ts';

const NAMELESS: SvgText = { title: 't', desc: 'd', idPrefix: 'p' };

/** As `drawSvg`, but in this thread; `warn` hears what Vega-Lite and vega complain about. */
export async function svgOf(spec: Spec, text = NAMELESS, warn?: (message: string) => void): Promise<string> {
  return tidySvg(await rawSvg(spec, warn), text);
}
