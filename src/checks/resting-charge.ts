/**
 * State of charge from the rested voltage. The latest rest that was long enough is judged; a battery that loses far more than was drawn is
 * told whatever is left of it; where an earlier one was
 * higher by more than both uncertainties, a charge that is still good is worth watching.
 */
import { restNeededS } from '../battery/rest-voltage.ts';
import { decide } from '../battery/uncertainty.ts';
import { batteryState } from '../measures/battery-state.ts';
import { limitOf } from '../measures/limit.ts';
import { RESTING_CHARGE, restedCharges } from '../measures/rested-charge.ts';
import { accuracyStated } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import type { Check } from './check.ts';

type Facts = {
  readonly neededS: number;
  readonly rests: number;
  readonly restV: number;
  readonly restT: number;
  readonly restS: number;
  readonly restWhole: boolean;
  readonly drawA: number | null;
  readonly temperatureC: number | null;
  readonly highestCharge: number;
  readonly highestT: number;
  readonly fellTo: number;
  readonly fellToT: number;
  readonly lostShare: number;
  readonly takenShare: number;
  readonly accuracyStated: boolean;
  readonly twoBatteries: boolean;
};

export const check: Check<Facts> = {
  id: 'resting-charge',
  about: 'vehicle',
  named: true,
  // A battery that does not keep what it is given may not stand for as long as its charge would let it.
  unfit: ({ status, variant }) => status === 'fault' && variant !== undefined,
  doubts: ({ status, variant }) => (status === 'fault' && variant ? ['stand-time', 'crank-voltage'] : null),
  side: 'min',
  causes: ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'charge-balance'],
  compared: [{ name: 'rest-voltage', unit: 'V', better: 'higher', oneLimit: true, followed: true }],
  needs: [],
  limits: [RESTING_CHARGE],
  reasons: [
    'no-stand',
    'no-rest',
    'surface-charge',
    'drawn-on',
    'flat-curve',
    'above-full',
    'limit-within-uncertainty',
  ],
  cautions: ['general', 'hydrogen', 'acid', 'short-circuit', 'frozen'],
  answer(analysis, session) {
    const limit = limitOf(RESTING_CHARGE, session);
    const { charges, reason, last } = restedCharges(analysis, session);
    const needed = { neededS: restNeededS(session.battery.chemistry).least };
    const latest = charges.at(-1);
    if (!latest) {
      const seen = last && { restV: last.volts.value, restT: last.at, restS: last.sinceChargeS };
      return { status: 'undecided', limit, facts: { ...needed, ...seen }, reason };
    }

    const { value, U, rest } = latest;
    const battery = batteryState(analysis, session);
    const highest = mostBy(charges, (charge) => charge.value) ?? latest;
    const base = {
      measured: { value, unit: '1', uncertainty: U },
      limit,
      facts: {
        ...needed,
        rests: charges.length,
        restV: rest.volts.value,
        restT: rest.at,
        restS: rest.sinceChargeS,
        restWhole: rest.sinceChargeInLog,
        drawA: rest.drawA,
        temperatureC: rest.temperatureC,
        highestCharge: battery.fellFrom?.charge ?? highest.value,
        highestT: battery.fellFrom?.t ?? highest.rest.at,
        fellTo: battery.fellTo?.charge ?? value,
        fellToT: battery.fellTo?.t ?? rest.at,
        lostShare: battery.lostShare,
        takenShare: battery.takenShare,
        accuracyStated: accuracyStated('voltage', session),
        twoBatteries: session.vehicle.systemV === 24,
      },
      evidence: [
        {
          chart: 'resting-charge',
          from: rest.at - Math.min(rest.sinceChargeS, rest.at - analysis.start),
          to: rest.at,
        },
      ],
    } as const;
    const decision = decide({ value, U, limit: limit.value, side: 'min' });
    if (decision === 'beyond') return { ...base, status: 'fault', variant: battery.state ?? undefined };
    // What empties itself is no less at fault for being still half full.
    if (battery.state === 'not-held')
      return { ...base, status: decision === 'within' ? 'watch' : 'fault', variant: 'not-held' };
    if (decision === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    const fell = highest.value - value > highest.U + U;
    return { ...base, status: fell ? 'watch' : 'clear' };
  },
};
