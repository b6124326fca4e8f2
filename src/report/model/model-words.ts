/** Figures of a model in words: their names, values, ranges and chances. */
import { filled } from '../../charts/drawing/words.ts';
import type { Unit } from '../../measures/limit.ts';
import type { Content } from '../words/content.ts';
import type { Format } from '../words/format.ts';
import type { ModelValue } from './values.ts';

/** Below this it is said to be rarer than that. */
const RARE = 0.001;

export const figureName = ({ figure, of }: Pick<ModelValue, 'figure' | 'of'>, content: Content): string =>
  filled(content.label(`figure.${figure}`), { of: ofText(figure, of) });

/** Minutes of a drive are `2-5` and `80-`; a step is `1/3`, anything else a circuit's label. */
function ofText(figure: string, of: string | null): string {
  if (of === null) return '';
  return figure === 'charging-voltage' ? of.replace('-', '–').replace(/–$/, '+') : of;
}

export const figureText = ({ unit }: { readonly unit: string }, value: number, format: Format) =>
  format.quantity(unit === 'min' ? value * 60 : value, (unit === 'min' ? 's' : unit) as Unit);

export const rangeText = (
  figure: { readonly unit: string },
  { low, high }: { readonly low: number; readonly high: number },
  format: Format,
) => between(figureText(figure, low, format), figureText(figure, high, format));

/** From the least to the most, once where both are written alike. */
export const between = (low: string, high: string): string => (low === high ? low : `${low} … ${high}`);

export function chanceText(chance: number | null, format: Format, content: Content): string {
  if (chance === null) return '–';
  return chance < RARE ? content.label('model.rare') : format.percent(chance);
}
