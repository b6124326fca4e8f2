/** Pictures drawn in the page's own worker. */
import { type DrawSvg, rawSvg } from '../charts/drawing/draw.ts';
import { tidySvg } from '../charts/drawing/tidy-svg.ts';

export const drawSvg: DrawSvg = async (spec, text) => tidySvg(await rawSvg(spec), text);
