/**
 * Internal resistance that each crank shows, against what the cold-cranking rating allows at −18 °C. A battery that shows more
 * while warmer cannot meet its rating. Compressions show little but the ohmic part, and the rating's test of 10 s or 30 s holds
 * polarisation too: just below the limit nothing is decided. A low charge raises the resistance too, and so does a
 * current of which the sensor misses a part: it is a fault only where the rested charge is known to be good and the voltage
 * while cranking, which no current sensor touches, does not hold; or far beyond the limit. A clear rise is worth watching.
 */
import type { Analysis } from '../analysis/model.ts';
import { lastOf, there } from '../base/there.ts';
import { isLithium } from '../battery/chemistry.ts';
import { crankingMinimumV } from '../battery/cranking.ts';
import { RATED_AT_C } from '../battery/rated-resistance.ts';
import { median, robustSd } from '../battery/statistics.ts';
import { decide, expand, type Uncertainty, widened } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { batteryState } from '../measures/battery-state.ts';
import { type CheckLimit, type DefaultLimit, NO_SOURCE } from '../measures/limit.ts';
import { resistanceRise } from '../measures/resistance-rise.ts';
import { restedCharges } from '../measures/rested-charge.ts';
import { accuracyStated, expandedU } from '../measures/sensor.ts';

import { type MeasuredCrank, measuredCranks, ratingOhm, starterA, starterDrawsTooLittle } from '../measures/starter.ts';
import type { Answer, Check } from './check.ts';

const RESISTANCE_RISE: DefaultLimit = {
  key: 'resistanceRise',
  value: 0.2,
  unit: '1',
  source: NO_SOURCE,
  applies:
    'from the first half of the cranks to the second, at the same temperature; the resistance itself is judged by the cold-cranking rating',
};

/** With less charge than this resistance is no measure of wear, 0 to 1. Common practice, no source. */
const GOOD_CHARGE = 0.6;
/**
 * Of what the rating's test leaves a battery to fall, so much at most is ohmic: what is below is in order, and what lies between
 * this and the limit may meet its rating or not. Common practice, no source.
 */
const OHMIC_SHARE = 0.8;
/**
 * Up to this many times the limit a voltage that holds while cranking speaks for the battery: half of the current may go round the sensor
 * without any other trace (`current-path`), and a sound battery then shows twice its resistance. Common practice, no source.
 */
const FAR_BEYOND = 2;

type Facts = {
  readonly cranks: number;
  /** An attempt to start did not start the engine. */
  readonly failed: boolean;
  readonly judged: number;
  readonly lowestOhm: number;
  readonly highestOhm: number;
  readonly starterA: number | null;
  readonly temperatureC: number | null;
  readonly temperatureKnown: boolean;
  readonly rise: number | null;
  readonly riseKnown: boolean;
  readonly coldCrankingA: number | null;
  readonly surelyOhm: number | null;
  readonly standardStated: boolean;
  readonly charge: number | null;
  readonly chargeU: number | null;
  readonly chargeKnown: boolean;
  readonly accuracyStated: boolean;
};

export const check: Check<Facts> = {
  id: 'battery-resistance',
  about: 'vehicle',
  largeCurrent: true,
  side: 'max',
  compared: [{ name: 'resistance', unit: 'Ω', better: 'lower', oneLimit: false, followed: true }],
  needs: ['current'],
  restsOn: ['cranking'],
  limits: [RESISTANCE_RISE],
  reasons: [
    'no-starter',
    'no-crank',
    'not-measurable',
    'no-rating',
    'not-lead',
    'colder-than-rating',
    'path-in-doubt',
    'cell',
    'limit-within-uncertainty',
    'polarisation-open',
  ],
  cautions: ['general', 'hydrogen', 'acid', 'short-circuit', 'exhaust', 'lifting'],
  answer(analysis, session) {
    const { powertrain } = session.vehicle;
    if (analysis.cranks.length === 0)
      return { status: 'undecided', reason: powertrain === 'combustion' ? 'no-crank' : 'no-starter' };
    const cranks = measuredCranks(analysis, session);
    if (cranks.length === 0)
      return { status: 'undecided', facts: { cranks: analysis.cranks.length }, reason: 'not-measurable' };
    return judge(analysis, session, cranks);
  },
};

function judge(analysis: Analysis, session: Session, cranks: readonly MeasuredCrank[]): Answer<Facts> {
  const ohms = cranks.map((crank) => crank.resistanceOhm.value);
  const temperatures = cranks.flatMap(({ temperatureC }) => (temperatureC === null ? [] : [temperatureC]));
  const temperatureC = temperatures.length > 0 ? median(temperatures) : null;
  const middle = { value: median(ohms), ...medianU(cranks) };
  const { value } = middle;
  const U = expandedU(middle);
  const limit = ratingLimit(session, temperatureC);
  const rise = resistanceRise(cranks);
  const risen = rise !== null && rise.value - expand(rise.u) > RESISTANCE_RISE.value;
  const charge = restedCharges(analysis, session).charges.at(-1);
  const base = {
    measured: { value, unit: 'Ω', uncertainty: U, coverage: middle.k },
    limit,
    facts: {
      cranks: analysis.cranks.length,
      failed: analysis.cranks.some(({ started }) => !started),
      judged: cranks.length,
      lowestOhm: Math.min(...ohms),
      highestOhm: Math.max(...ohms),
      starterA: starterA(cranks),
      temperatureC,
      temperatureKnown: temperatureC !== null,
      rise: rise?.value ?? null,
      riseKnown: rise !== null,
      coldCrankingA: session.battery.coldCrankingA ?? null,
      surelyOhm: limit ? OHMIC_SHARE * limit.value : null,
      standardStated: session.battery.crankingStandard !== undefined,
      charge: charge?.value ?? null,
      chargeU: charge?.U ?? null,
      chargeKnown: charge !== undefined,
      accuracyStated: accuracyStated('current', session),
    },
    evidence: [{ chart: 'battery-resistance', from: there(cranks[0]).at, to: lastOf(cranks).at }],
  } as const;

  if (!limit) {
    if (risen) return { ...base, status: 'watch', variant: 'rising' };
    return { ...base, status: 'undecided', reason: isLithium(session.battery.chemistry) ? 'not-lead' : 'no-rating' };
  }
  const decision = decide({ value, U, limit: limit.value, side: 'max' });
  if (decision === 'beyond') {
    if (temperatureC !== null && temperatureC < RATED_AT_C)
      return { ...base, status: 'undecided', reason: 'colder-than-rating' };
    const holds = voltageHolds(cranks, session);
    if (holds && starterDrawsTooLittle({ ohm: value, drawA: base.facts.starterA }, session))
      return { ...base, status: 'undecided', reason: 'path-in-doubt' };
    if (batteryState(analysis, session).state === 'cell') return { ...base, status: 'undecided', reason: 'cell' };
    if (!charge || charge.value < GOOD_CHARGE) return { ...base, status: 'watch' };
    const far = value - U > FAR_BEYOND * limit.value;
    return holds && !far ? { ...base, status: 'watch', variant: 'voltage-holds' } : { ...base, status: 'fault' };
  }
  if (risen) return { ...base, status: 'watch', variant: 'rising' };
  if (decision === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
  if (value > OHMIC_SHARE * limit.value) return { ...base, status: 'undecided', reason: 'polarisation-open' };
  return { ...base, status: 'clear' };
}

/** True where the voltage of every crank stays surely above its load-test minimum; without a temperature, above the strictest. */
function voltageHolds(cranks: readonly MeasuredCrank[], session: Session): boolean {
  return cranks.every(({ voltsCranking, temperatureC }) => {
    if (!voltsCranking) return false;
    const limit = crankingMinimumV(session.vehicle.systemV, temperatureC);
    const U = expandedU(voltsCranking);
    return decide({ value: voltsCranking.value, U, limit, side: 'min' }) === 'within';
  });
}

/** Of the middle resistance, Ω: what each crank leaves open, since gain is shared, and their scatter. */
function medianU(cranks: readonly MeasuredCrank[]): Uncertainty {
  const ohms = cranks.map((crank) => crank.resistanceOhm.value);
  const scatterU = cranks.length > 2 ? robustSd(ohms) / Math.sqrt(cranks.length) : 0;
  const byU = cranks.map((crank) => crank.resistanceOhm).sort((a, b) => a.u - b.u);
  return widened(there(byU[(byU.length - 1) >> 1]), scatterU);
}

function ratingLimit(session: Session, temperatureC: number | null): CheckLimit | undefined {
  const value = ratingOhm(session, temperatureC);
  if (value === null) return undefined;
  const standard = session.battery.crankingStandard ?? 'SAE';
  return {
    value,
    unit: 'Ω',
    source: `computed from the cold-cranking rating (${standard}${session.battery.crankingStandard ? '' : ', the most lenient, none stated'}; its test second-hand), ${temperatureC === null ? 'at −18 °C' : 'for the temperature'}`,
  };
}
