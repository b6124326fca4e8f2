/**
 * Do the drives put back what the stands take out? Counted from the first key-off to the last one, so that every stand
 * has its drive, and judged against a loss that use may vary by. A larger one is a fault where the battery is low
 * afterwards, or where it is twice as large and the battery is not known to be well charged; otherwise it is worth
 * watching, since vehicles with start-stop let a full battery sink to about 80 % on purpose.
 */
import type { Analysis } from '../analysis/model.ts';
import { isLithium } from '../battery/chemistry.ts';
import { decide } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { balanceOf } from '../measures/charge-counted.ts';
import type { CheckLimit, DefaultLimit } from '../measures/limit.ts';
import { limitOf, NO_SOURCE } from '../measures/limit.ts';
import { RESTING_CHARGE, restedCharges } from '../measures/rested-charge.ts';
import { accuracyStated } from '../measures/sensor.ts';
import { secondsOf } from '../measures/spans.ts';
import { SURE, surenessOf } from '../measures/sureness.ts';
import type { Check } from './check.ts';

const CHARGE_LOSS: DefaultLimit = {
  key: 'chargeLoss',
  value: 0.05,
  unit: '1',
  source: NO_SOURCE,
  applies: 'of the capacity, over the time counted; 3 Ah where the capacity is not stated',
};
const LOSS_WITHOUT_CAPACITY_AH = 3;

/** Less than a day, or more of it missing than this share, is not a fair account. Common practice, no source. */
const SHORTEST_S = 86_400;
const LEAST_DRIVES = 2;
const MOST_MISSING = 0.05;
/** What a shop charger may have put in before the account no longer tells about the drives, Ah. */
const CHARGER_AH = 1;

/** Stories of `charging-low` by which a drive charges nothing. */
const DRAINED: ReadonlySet<string | undefined> = new Set(['some-drives', 'at-times', 'at-first', 'stops']);

type Facts = {
  readonly missingS?: number;
  readonly spanS: number;
  readonly inAh: number;
  readonly outAh: number;
  readonly lossAh: number;
  readonly allowedAh: number;
  readonly weekAh: number;
  readonly fromT: number;
  readonly toT: number;
  readonly drives: number;
  readonly drivingS: number;
  /** More came back than a loss of that size would be, and its uncertainty. */
  readonly gained: boolean;
  /** What it lacked at most at its least full rest, where clearly more than that came back, Ah. */
  readonly roomAh: number | null;
  readonly isLead: boolean;
  readonly charge: number | null;
  readonly chargeU: number | null;
  readonly chargeKnown: boolean;
  readonly chargerAh: number;
  readonly accuracyStated: boolean;
};

export const check: Check<Facts> = {
  id: 'charge-balance',
  about: 'vehicle',
  side: 'min',
  causes: ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time'],
  // Where some drives charge nothing, that is why less came back, be the loss small.
  cause: ({ status }, raised) => {
    const low = raised.get('charging-low');
    return status === 'watch' && low?.status === 'watch' && DRAINED.has(low.variant) ? 'charging-low' : undefined;
  },
  compared: [{ name: 'charge-balance', unit: 'Ah/d', better: 'higher', oneLimit: false }],
  needs: ['current'],
  limits: [CHARGE_LOSS],
  reasons: ['no-whole-cycle', 'too-much-missing', 'charger-between', 'limit-within-uncertainty'],
  cautions: ['general', 'hydrogen', 'acid'],
  answer(analysis, session) {
    const keyOffs = analysis.stands.filter((stand) => stand.keyOffInLog).map((stand) => stand.start);
    const from = keyOffs[0];
    const to = keyOffs.at(-1);
    if (from === undefined || to === undefined || to <= from) return { status: 'undecided', reason: 'no-whole-cycle' };
    const spanS = to - from;
    const missingS = secondsOf(analysis.periods, ['no-data', 'disconnected'], from, to);
    if (missingS > MOST_MISSING * spanS)
      return { status: 'undecided', facts: { missingS, spanS }, reason: 'too-much-missing' };

    const account = balanceOf(analysis, session, from, to);
    const { netAh: value, U, k } = account;
    const limit = lossLimit(session);
    const charge = restedCharges(analysis, session).charges.at(-1);
    const base = {
      measured: { value, unit: 'Ah', uncertainty: U, coverage: k },
      limit,
      facts: {
        inAh: account.inAh,
        outAh: account.outAh,
        lossAh: -value,
        allowedAh: -limit.value,
        weekAh: (-value / spanS) * 7 * 86_400,
        spanS,
        fromT: from,
        toT: to,
        drives: analysis.drives.filter((drive) => drive.start >= from && drive.end <= to).length,
        drivingS: secondsOf(analysis.periods, ['driving'], from, to),
        gained: value > -limit.value + U,
        roomAh: roomOf(analysis, session, value - U),
        isLead: !isLithium(session.battery.chemistry),
        charge: charge?.value ?? null,
        chargeU: charge?.U ?? null,
        chargeKnown: charge !== undefined,
        chargerAh: account.chargerAh,
        accuracyStated: accuracyStated('current', session),
      },
      evidence: [{ chart: 'charge-balance', from, to }],
    } as const;
    const decision = decide({ value, U, limit: limit.value, side: 'min' });
    const large = decide({ value, U, limit: 2 * limit.value, side: 'min' }) === 'beyond';
    // What several drives of one day lose is a loss already; that they balance takes whole turns to see.
    if (spanS < SHORTEST_S && !(large && base.facts.drives >= LEAST_DRIVES))
      return { status: 'undecided', reason: 'no-whole-cycle' };
    // What was lost was lost, whatever the vehicle did; that drives put it back asks for drives.
    if (decision === 'within' && surenessOf(analysis, ['driving']) < SURE)
      return { ...base, status: 'undecided', reason: 'unsure-states' };
    // Without a drive nothing shows what drives put back.
    if (decision === 'within' && base.facts.drives === 0) return { status: 'undecided', reason: 'no-whole-cycle' };
    if (decision === 'within') return { ...base, status: 'clear' };
    if (account.chargerAh > CHARGER_AH) return { ...base, status: 'undecided', reason: 'charger-between' };
    if (decision === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    const enough = limitOf(RESTING_CHARGE, session).value;
    const left = charge ? decide({ value: charge.value, U: charge.U, limit: enough, side: 'min' }) : 'undecided';
    return { ...base, status: left === 'beyond' || (large && left === 'undecided') ? 'fault' : 'watch' };
  },
};

/** Of what a lead-acid battery is given, so much stays: a tenth and more goes into gas and heat. Common practice, no source. */
const KEPT = 0.8;

/** Null where the gain may have found room, or nothing shows how much there was. */
function roomOf(analysis: Analysis, session: Session, gainAh: number): number | null {
  const { capacityAh } = session.battery;
  const { charges } = restedCharges(analysis, session);
  if (capacityAh === undefined || charges.length === 0) return null;
  const least = Math.min(...charges.map(({ value, U }) => value - U));
  const roomAh = Math.min(1, 1 - least) * capacityAh;
  return gainAh * KEPT > roomAh ? roomAh : null;
}

/** As a balance: the loss that is allowed, negative, Ah. */
function lossLimit(session: Session): CheckLimit {
  const { capacityAh } = session.battery;
  const share = limitOf(CHARGE_LOSS, session);
  const value = capacityAh === undefined ? -LOSS_WITHOUT_CAPACITY_AH : -share.value * capacityAh;
  return { value, unit: 'Ah', source: share.source };
}
