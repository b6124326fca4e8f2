/**
 * Days that the vehicle may stand, from the latest rested charge, the draw of a long stand and self-discharge. All of
 * them are ranges, so the answer is one: a fault only where even its long end is below the limit. Where the vehicle slept
 * in some stands and stayed awake in others, the range reaches from the one to the other.
 */
import type { Analysis } from '../analysis/model.ts';
import { wholeDays } from '../base/whole-days.ts';
import { chargeToNoStartAh, standDays } from '../battery/capacity.ts';
import { selfDischargePerDay } from '../battery/self-discharge.ts';
import { decide } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { standsCompared } from '../measures/account/stands-compared.ts';
import { batteryState } from '../measures/battery-state.ts';
import { fedAwakeAh } from '../measures/charge-counted.ts';
import { ranOnAh } from '../measures/costly-settlings.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf, NO_SOURCE } from '../measures/limit.ts';
import { asleepDraw, longRunDraw } from '../measures/long-run-draw.ts';
import { movement } from '../measures/movement.ts';
import { RESTING_CHARGE, restedCharges } from '../measures/rested-charge.ts';
import { expandedU } from '../measures/sensor.ts';
import { total } from '../measures/spans.ts';
import { stayedAwake } from '../measures/stayed-awake.ts';
import { shiftedZeroA } from '../measures/zero.ts';
import type { Check } from './check.ts';

const DAY_S = 86_400;

const STAND_TIME: DefaultLimit = {
  key: 'standTime',
  value: 14 * DAY_S,
  unit: 's',
  source: NO_SOURCE,
  applies: 'a fortnight’s holiday',
};

/** Within half a year nobody's tables tell what becomes of a battery that stands. Common practice, no source. */
export const LONG_DAYS = 180;

/** Taken as the span of the battery's temperature where none was logged, °C. */
const UNSEEN_C = { low: 5, high: 25 };

/** Where no rest shows it, the battery may be anything from empty to full: a draw that would empty a full one in time is too much. */
const ANY_CHARGE = { value: 0.5, U: 0.5 };

type Facts = {
  readonly lowS: number;
  readonly highS: number;
  readonly lowDays: number;
  readonly lessThan: boolean;
  /** Nobody can say so far ahead: then only the short end is told. */
  readonly forLong: boolean;
  readonly drawA: number;
  readonly drawUA: number;
  readonly awakeA: number;
  readonly charge: number;
  readonly chargeU: number;
  readonly chargeT: number | null;
  readonly toLoseLowAh: number;
  readonly toLoseHighAh: number;
  /** What ran on after the costliest key-off, kept back from the cautious end; null where nothing did. */
  readonly onceAh: number | null;
  readonly capacityAh: number;
  readonly derived: boolean;
  /** The rest shows it well charged: then the draw is why. */
  readonly charged: boolean;
  readonly lossLowAh: number;
  readonly lossHighAh: number;
  readonly temperatureSeen: boolean;
  readonly hasStarter: boolean;
};

export const check: Check<Facts> = {
  id: 'stand-time',
  about: 'vehicle',
  side: 'min',
  asRange: true,
  causes: ['parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'resting-charge'],
  inTrain: true,
  needs: ['current'],
  limits: [STAND_TIME],
  reasons: [
    'no-capacity',
    'topped-up',
    'too-little-sleep',
    'reads-charging',
    'no-charge',
    'not-held',
    'sometimes-awake',
    'limit-within-uncertainty',
  ],
  cautions: ['general'],
  answer(analysis, session) {
    const limit = limitOf(STAND_TIME, session);
    const { chemistry, capacityAh } = session.battery;
    if (capacityAh === undefined) return { status: 'undecided', limit, reason: 'no-capacity' };
    if (toppedUp(analysis, session)) return { status: 'undecided', limit, reason: 'topped-up' };
    const draw = longRunDraw(analysis, session);
    if (!draw) return { status: 'undecided', limit, reason: 'too-little-sleep' };
    const rested = restedCharges(analysis, session).charges.at(-1);
    const charge = rested ?? ANY_CHARGE;

    const drawUA = expandedU(draw);
    if (draw.value + drawUA < 0)
      return { status: 'undecided', limit, facts: { drawA: draw.value }, reason: 'reads-charging' };
    const coldC = analysis.temperature?.mean ?? UNSEEN_C.low;
    const warmC = analysis.temperature?.mean ?? UNSEEN_C.high;
    // Where the log shows a battery that does not keep its charge, no book tells better what it loses.
    const { lossPerDay } = batteryState(analysis, session);
    const loss = {
      low: selfDischargePerDay(chemistry, coldC).low,
      high: Math.max(selfDischargePerDay(chemistry, warmC).high, lossPerDay ?? 0),
    };
    // What at times runs on after a key-off is gone before the vehicle sleeps.
    const onceAh = ranOnAh(analysis, session);
    const toLoseAh = {
      // The strict reading of the rule is the cautious end already.
      low: Math.max(0, chargeToNoStartAh(capacityAh, rested ? charge.value : 0).low - onceAh),
      high: chargeToNoStartAh(capacityAh, Math.min(1, charge.value + charge.U)).high,
    };
    const compared = standsCompared(analysis, session);
    const awakeA = Math.max(
      // What comes and goes each day is in the mean of a long stand.
      compared && compared.dailyT === null ? compared.sleepA + compared.longest.meanA : 0,
      ...stayedAwake(analysis, session).map((stand) => stand.meanDrawA?.value ?? 0),
    );
    // A sensor whose zero is known to be off has shown two draws: as read, and less what it reads of nothing.
    const zeroA = shiftedZeroA(analysis, session);
    // However little is known of the wakes, it draws no less than it does asleep.
    const asleep = asleepDraw(analysis, session);
    const leastA = asleep ? asleep.value - expandedU(asleep) : Number.NEGATIVE_INFINITY;
    const drawA = {
      low: Math.max(leastA, draw.value - drawUA) + Math.min(0, zeroA),
      // What it crept up to it may go on drawing.
      high: Math.max(draw.value + Math.max(0, zeroA) + drawUA, awakeA, movement(analysis, session).creep?.toA ?? 0),
    };
    const days = standDays({ chemistry, capacityAh, toLoseAh, drawA, lossPerDay: loss });
    const spoken = wholeDays(days.low * DAY_S, days.high * DAY_S);
    const value = ((days.low + days.high) / 2) * DAY_S;
    const U = ((days.high - days.low) / 2) * DAY_S;
    const base = {
      measured: { value, unit: 's', uncertainty: U },
      limit,
      facts: {
        lowS: spoken.low * DAY_S,
        highS: spoken.high * DAY_S,
        lowDays: spoken.low,
        lessThan: spoken.low < 1,
        forLong: spoken.high > LONG_DAYS,
        drawA: draw.value,
        drawUA,
        awakeA,
        charge: charge.value,
        chargeU: charge.U,
        chargeT: rested?.rest.at ?? null,
        toLoseLowAh: toLoseAh.low,
        toLoseHighAh: toLoseAh.high,
        onceAh: onceAh || null,
        capacityAh,
        derived: session.battery.capacityFrom !== undefined,
        charged: charge.value - charge.U > limitOf(RESTING_CHARGE, session).value,
        lossLowAh: loss.low * capacityAh,
        lossHighAh: loss.high * capacityAh,
        temperatureSeen: analysis.temperature !== null,
        hasStarter: session.vehicle.powertrain === 'combustion',
      },
      evidence: [{ chart: rested ? 'stand-time' : 'parked-draw', from: analysis.start, to: analysis.end }],
    } as const;
    const decision = decide({ value, U, limit: limit.value, side: 'min' });
    const state = batteryState(analysis, session).state;
    const isUnfit = state === 'empty' || state === 'cell' || days.high < 0.5;
    if (rested && isUnfit) return { ...base, status: 'fault', variant: 'now' };
    if (rested && state === 'not-held') return { status: 'undecided', limit, reason: 'not-held' };
    if (decision === 'beyond') return { ...base, status: 'fault', ...(rested ? {} : { variant: 'charge-unknown' }) };
    if (!rested) return { status: 'undecided', limit, reason: 'no-charge' };
    // No all-clear stands beside a load that is the fault.
    if (decision === 'within' && !compared) return { ...base, status: 'clear' };
    const varies = (compared !== null && compared.dailyT === null) || awakeA > draw.value + drawUA;
    return { ...base, status: 'undecided', reason: varies ? 'sometimes-awake' : 'limit-within-uncertainty' };
  },
};

/** A hybrid's or electric vehicle's converter may fill the 12 V battery while parked: then its draw does not set the days. */
function toppedUp(analysis: Analysis, session: Session): boolean {
  if (session.vehicle.powertrain === 'combustion') return false;
  // Of what nobody can name, charge that flows in while no starter was seen is most likely the converter's too.
  const unnamed = analysis.periods.filter(({ kind }) => kind === 'unknown');
  const inAh = fedAwakeAh(analysis) + analysis.totals.chargerInAh + total(unnamed, ({ chargeInAh }) => chargeInAh);
  return inAh > 0.1 * total(analysis.stands, (stand) => stand.chargeOutAh) && inAh > 0.5;
}
