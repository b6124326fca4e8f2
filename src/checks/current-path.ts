/**
 * Does all current pass the sensor? Whatever moves the voltage must move the current too: starts and loads that the
 * voltage shows and the current does not went round it. Where both show, their ratio must be a resistance that a battery
 * can have. An even share of all current that goes elsewhere looks like a worn battery and is told from it only where the
 * starter then seems to draw less than any starter does.
 */

import { median } from '../battery/statistics.ts';
import { NO_SOURCE } from '../measures/limit.ts';
import { loadSteps } from '../measures/load-steps.ts';
import { restedCharges } from '../measures/rested-charge.ts';
import { type SeenStart, seenStarts } from '../measures/seen-starts.ts';
import {
  measuredCranks,
  type StarterSeen,
  seenInCranks,
  starterDrawsTooLittle,
  usualOhm,
} from '../measures/starter.ts';
import type { Check } from './check.ts';

/** Events without current that make a fault, and share of all such events. */
const UNSEEN_SHARE = {
  key: 'unseenShare',
  value: 0.5,
  unit: '1',
  source: NO_SOURCE,
  applies: 'of the starts, or of five load steps or more, that show in the voltage and not in the current',
} as const;
const STARTS = 2;
const STEPS = 5;
/** Longest tile that shows a dip and its draw together, s. */
const FAST_S = 2;
/** From these on an event without current is worth watching: fewer may be a jolt at the clamp. */
const FEW_STEPS = 3;
const FEW_SHARE = 0.2;
/** So many are, however many others show. */
const MANY_STEPS = 10;

/** Resistance of cranks against the usual one, and of load steps against that of cranks: beyond these something is off. Common practice, no source. */
const TOO_HIGH = 3;
const TOO_LOW = 0.15;
const IN_PART = 5;
/** With less charge than this resistance tells nothing of the current's way, 0 to 1. Common practice, no source. */
const GOOD_CHARGE = 0.6;

/** Stories by which more may flow than the sensor shows, all of the time. */
const SHOWS_LESS: ReadonlySet<string | undefined> = new Set(['starter', 'in-part']);

type Facts = {
  readonly starts: number;
  readonly unseenStarts: number;
  readonly steps: number;
  readonly unseenSteps: number;
  readonly firstT: number | null;
  readonly firstDipV: number | null;
  readonly firstA: number | null;
  readonly cranks: number;
  readonly crankOhm: number | null;
  readonly stepOhm: number | null;
  readonly stepsMeasured: boolean;
  readonly usualOhm: number | null;
  readonly starterA: number | null;
  readonly sensorPlace: string | null;
  readonly placeTold: boolean;
};

export const check: Check<Facts> = {
  id: 'current-path',
  about: 'log',
  // What goes round the sensor, or what it shows too little of, is in no figure of current.
  doubts: ({ status, variant }) =>
    status === 'fault' || (status === 'watch' && SHOWS_LESS.has(variant)) ? 'current' : null,
  side: null,
  needs: ['current'],
  limits: [UNSEEN_SHARE],
  reasons: ['too-little-seen', 'few-unseen', 'resistance-high', 'low-charge'],
  cautions: ['general', 'short-circuit', 'exhaust'],
  answer(analysis, session) {
    const starts = seenStarts(analysis, session);
    const steps = loadSteps(analysis, session);
    const cranks = measuredCranks(analysis, session);
    const unseenStarts = starts.filter((start) => !start.matched);
    const unseenSteps = steps.filter((step) => !step.matched);
    const starter = seenInCranks(cranks) ?? seenInStarts(starts);
    const crankOhm = starter?.ohm ?? null;
    const seen = steps.filter((step) => step.matched && Math.abs(step.amps) >= 2);
    const stepOhm = seen.length >= STEPS ? median(seen.map((step) => step.volts / step.amps)) : null;
    const usual = usualOhm(session);
    // An empty battery resists more too, and a small starter on a large battery is no current that is missing.
    const { value: charge = 1 } = restedCharges(analysis, session).charges.at(-1) ?? {};
    const drawsLittle = starter !== null && starterDrawsTooLittle(starter, session);
    const showsLittle = drawsLittle && charge >= GOOD_CHARGE;
    const first = unseenStarts[0] ?? unseenSteps[0];
    const base = {
      facts: {
        starts: starts.length,
        unseenStarts: unseenStarts.length,
        steps: steps.length,
        unseenSteps: unseenSteps.length,
        firstT: first?.at ?? null,
        firstDipV: unseenStarts[0]?.dipV ?? (unseenSteps[0] ? Math.abs(unseenSteps[0].volts) : null),
        firstA: unseenStarts[0]?.drawA ?? (unseenSteps[0] ? Math.abs(unseenSteps[0].amps) : null),
        cranks: starter === null ? 0 : cranks.length || starts.length,
        crankOhm,
        stepOhm,
        stepsMeasured: stepOhm !== null,
        usualOhm: usual,
        starterA: starter?.drawA ?? null,
        sensorPlace: session.install.currentSensorPlace ?? null,
        placeTold: session.install.currentSensorPlace !== undefined,
      },
      evidence: [{ chart: 'current-path', from: analysis.start, to: analysis.end }],
    } as const;

    if (unseenStarts.length >= STARTS && unseenStarts.length >= UNSEEN_SHARE.value * starts.length)
      return { ...base, status: 'fault' };
    if (unseenSteps.length >= STEPS && unseenSteps.length >= UNSEEN_SHARE.value * steps.length)
      return { ...base, status: 'fault', variant: 'loads' };
    if (
      unseenStarts.length > 0 ||
      (unseenSteps.length >= FEW_STEPS && unseenSteps.length >= Math.min(MANY_STEPS, FEW_SHARE * steps.length))
    )
      // That all starts show too little says more than that one shows none.
      return { ...base, status: 'watch', ...(showsLittle && { variant: 'starter' }) };
    const odd = oddRatio(crankOhm, stepOhm, usual);
    if (odd || showsLittle) return { ...base, status: 'watch', variant: odd ?? 'starter' };
    if (drawsLittle) return { ...base, status: 'undecided', reason: 'low-charge' };
    if (crankOhm !== null && usual !== null && crankOhm > TOO_HIGH * usual)
      return { ...base, status: 'undecided', reason: 'resistance-high' };
    if (unseenSteps.length > 0 && unseenSteps.length >= UNSEEN_SHARE.value * steps.length)
      return { ...base, status: 'undecided', reason: 'few-unseen' };
    // A load that left the voltage as it was proves nothing.
    const enough = cranks.length > 0 || starts.length > 0 || steps.filter((step) => step.shown).length >= FEW_STEPS;
    return enough ? { ...base, status: 'clear' } : { ...base, status: 'undecided', reason: 'too-little-seen' };
  },
};

/** Starts whose cranks the log is too slow, or their current too small, to measure: dip against peak. Null where none has a current. */
function seenInStarts(starts: readonly SeenStart[]): StarterSeen | null {
  const drawn = starts.filter(({ drawA, isClipped, tileS }) => drawA > 0 && !isClipped && tileS <= FAST_S);
  if (drawn.length < STARTS) return null;
  return { ohm: median(drawn.map(({ dipV, drawA }) => dipV / drawA)), drawA: median(drawn.map(({ drawA }) => drawA)) };
}

function oddRatio(crankOhm: number | null, stepOhm: number | null, usual: number | null) {
  if (crankOhm === null) return null;
  if (usual !== null && crankOhm < TOO_LOW * usual) return 'too-low' as const;
  if (stepOhm === null) return null;
  return stepOhm > IN_PART * crankOhm || crankOhm > IN_PART * stepOhm ? ('in-part' as const) : null;
}
