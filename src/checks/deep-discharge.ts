/**
 * Was the battery taken so low that it may be damaged? The lowest voltage that a parked vehicle kept for a minute of one
 * stand, cranks and glow plugs left out. Some minutes below the limit, or perhaps below it, are worth watching, longer is a
 * fault; hours at rest so low that the battery is hard to fill again are worth watching too.
 */
import { isLithium, perTwelveVolt } from '../battery/chemistry.ts';
import { restVoltageV } from '../battery/rest-voltage.ts';
import { decide, expand } from '../battery/uncertainty.ts';
import { batteryState } from '../measures/battery-state.ts';
import { LOWEST_VOLTAGE, lowestParked, lowestVoltage, parkedBelowS } from '../measures/parked-voltage.ts';
import { presentBattery } from '../measures/present-battery.ts';
import { accuracyStated, measuredLevel } from '../measures/sensor.ts';
import { cutOff } from '../measures/supply-stories.ts';
import type { Check } from './check.ts';

/**
 * Rested below this, a 12 V lead battery is nearly empty and hard to charge again: "11.6 to 12.1 V" (a vehicle maker's service
 * bulletin of 1992, seen; below 11.6 V it calls it heavily sulphated).
 */
const HARD_TO_FILL_V = 12.0;
/** Hours at rest are what hardens the sulphate, s. Common practice, no source. */
const LONG_S = 7200;
/** Below the limit for this long, together, a battery is harmed. Common practice, no source. */
const HARMFUL_S = 600;

type Facts = {
  readonly lowestT: number;
  readonly lowS: number;
  readonly emptyV: number;
  readonly emptyS: number;
  readonly hardV: number;
  readonly hardS: number;
  readonly twoBatteries: boolean;
  readonly lithium: boolean;
  /** Only of the variant `cut-off`. */
  readonly cutV?: number;
  readonly cutT?: number;
  readonly accuracyStated: boolean;
};

export const check: Check<Facts> = {
  id: 'deep-discharge',
  about: 'vehicle',
  side: 'min',
  causes: ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'charge-balance'],
  needs: [],
  limits: [LOWEST_VOLTAGE],
  reasons: ['not-parked', 'cell'],
  cautions: ['general', 'hydrogen', 'acid', 'frozen', 'lifting'],
  answer(all, session) {
    const analysis = presentBattery(all, session);
    const limit = lowestVoltage(session);
    const lowest = lowestParked(analysis, session);
    if (!lowest) return { status: 'undecided', limit, reason: 'not-parked' };

    // With a dead cell the voltage tells nothing of how far the others were drained.
    if (batteryState(all, session).state === 'cell')
      return { status: 'undecided', limit, reason: 'cell', follows: 'resting-charge' };

    const value = lowest.value;
    const { u, k } = measuredLevel(value, 'voltage', analysis, session);
    const U = expand(u, k);
    const lowS = parkedBelowS(analysis, session, { level: limit.value });
    const emptyV = restVoltageV(session.battery.chemistry, session.vehicle.systemV, 0);
    const emptyS = parkedBelowS(analysis, session, { level: emptyV - U, resting: true });
    const hardV = HARD_TO_FILL_V * perTwelveVolt(session.vehicle.systemV);
    const hardS = isLithium(session.battery.chemistry)
      ? 0
      : parkedBelowS(analysis, session, { level: hardV - U, resting: true });
    const base = {
      measured: { value, unit: 'V', uncertainty: U, coverage: k },
      limit,
      facts: {
        lowestT: lowest.from,
        lowS,
        emptyV,
        emptyS,
        hardV,
        hardS,
        twoBatteries: session.vehicle.systemV === 24,
        lithium: isLithium(session.battery.chemistry),
        accuracyStated: accuracyStated('voltage', session),
      },
      evidence: [{ chart: 'deep-discharge', from: lowest.from, to: lowest.to }],
    } as const;
    const decision = decide({ value, U, limit: limit.value, side: 'min' });
    if (decision === 'beyond') return { ...base, status: lowS >= HARMFUL_S ? 'fault' : 'watch' };
    // Where a wrong "no" costs the battery, doubt is a warning.
    if (decision === 'undecided') return { ...base, status: 'watch', variant: 'in-doubt' };
    // Its own switch keeps a lithium battery above the limit, and the vehicle without power.
    const cut = cutOff(analysis, session);
    if (cut)
      return {
        ...base,
        facts: { ...base.facts, cutV: cut.lastV, cutT: cut.cutT },
        status: 'watch',
        variant: 'cut-off',
      };
    if (emptyS >= HARMFUL_S) return { ...base, status: 'watch', variant: 'empty' };
    return hardS >= LONG_S ? { ...base, status: 'watch', variant: 'low' } : { ...base, status: 'clear' };
  },
};
