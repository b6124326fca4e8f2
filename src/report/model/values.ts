/** What can be held against other vehicles of the same model: one value a figure. */
import type { Report } from '../contract/report.ts';
import { type PortraitFigure, portraitFigures } from '../portrait-figures.ts';

export interface ModelValue extends Pick<PortraitFigure, 'figure' | 'of' | 'unit'> {
  readonly value: number;
}

/** What healthy vehicles of the model showed. */
export interface Healthy {
  /** Whether the session names them itself, or the archive has them. */
  readonly from: 'limits' | 'model';
  /** Values of each, one of each vehicle. */
  readonly vehicles: readonly (readonly ModelValue[])[];
}

/** Figures that the model decides, not use or weather. The draw asleep is positive, as everywhere outside of `current_a`. */
export function modelValues(portrait: Report['portrait']): ModelValue[] {
  if (!portrait) return [];
  return portraitFigures(portrait).flatMap(({ figure, of, unit, p50, compares }) =>
    compares ? [{ figure, of, unit, value: figure === 'state-current' ? -p50 : p50 }] : [],
  );
}

export const valueKey = ({ figure, of }: Pick<ModelValue, 'figure' | 'of'>) => `${figure}\0${of ?? ''}`;
