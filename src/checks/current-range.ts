/**
 * Was any reading clipped? Told from the range that the manifest states, or from cranks that all stop at one peak. What
 * suffers is what large currents tell: the peak of the starter, and resistance where the plateau is clipped too. The draw
 * asleep is thousands of times smaller and does not suffer.
 */
import { clippingOf, largestCurrentA, plateauClipped } from '../measures/clipping.ts';
import { measuredCranks } from '../measures/starter.ts';
import type { Check } from './check.ts';

const STATED = 'range of the sensor, as the manifest states it';

type Facts = {
  readonly cranks: number;
  readonly clippedCranks?: number;
  readonly clippedPlateaus?: number;
  readonly tiles?: number;
  readonly byRange?: boolean;
  readonly firstT?: number | null;
  readonly beyondCranks?: boolean;
  /** Some crank gave a resistance all the same. */
  readonly resistanceSeen?: boolean;
};

export const check: Check<Facts> = {
  id: 'current-range',
  about: 'log',
  side: 'max',
  needs: ['current'],
  limits: [],
  reasons: ['range-unstated'],
  cautions: [],
  answer(analysis, session) {
    const rangeA = session.log.columns.current?.rangeA;
    const clipping = clippingOf(analysis, session);
    const largestA = largestCurrentA(analysis);
    const base = {
      measured: { value: largestA, unit: 'A', uncertainty: null },
      limit: rangeA === undefined ? undefined : { value: rangeA, unit: 'A' as const, source: STATED },
      evidence: [{ chart: 'current-range', from: clipping?.at ?? analysis.start, to: analysis.end }],
    } as const;
    const cranks = analysis.cranks.length;
    if (!clipping) {
      if (rangeA !== undefined || cranks > 0) return { ...base, status: 'clear', facts: { cranks } };
      return { ...base, status: 'undecided', facts: { cranks }, reason: 'range-unstated' };
    }
    const plateaus = analysis.cranks.filter((crank) => plateauClipped(crank, clipping)).length;
    const facts = {
      cranks,
      clippedCranks: clipping.cranks,
      clippedPlateaus: plateaus,
      tiles: clipping.tiles,
      byRange: clipping.by === 'range',
      firstT: clipping.at,
      resistanceSeen: measuredCranks(analysis, session).length > 0,
    };
    // Cranking is over in a second; where more than that was clipped, charge counted is wrong too.
    const beyondCranks = clipping.tiles > 3 * Math.max(1, cranks) + 3;
    // Peaks that are all alike only suggest it; a range that the manifest states proves it.
    const proven = clipping.by === 'range' && (plateaus > 0 || beyondCranks);
    return { ...base, status: proven ? 'fault' : 'watch', facts: { ...facts, beyondCranks } };
  },
};
