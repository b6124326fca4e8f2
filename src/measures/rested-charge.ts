/** State of charge from rested voltage, stand by stand: what resting-charge, stand-time and charge-balance ask about. */
import type { Rest } from '../analysis/model.ts';
import { isLithium, perTwelveVolt } from '../battery/chemistry.ts';
import { restNeededS, stateOfCharge } from '../battery/rest-voltage.ts';
import { expand } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import type { DefaultLimit } from './limit.ts';
import { measure } from './measure.ts';
import { presentBattery } from './present-battery.ts';

export const RESTING_CHARGE: DefaultLimit = {
  key: 'restingCharge',
  value: 0.75,
  unit: '1',
  source:
    'a battery maker’s test instructions and vehicle makers’ service manuals, seen: below 12.4 V, 75 %, it is charged before it is tested',
  applies: 'below it a lead battery should be charged before it is judged',
};

/** Above this draw a battery is not at rest, A: where the correction for the draw ends. Common practice, no source. */
export const REST_DRAW_A = 0.5;

export interface RestedCharge {
  readonly rest: Rest;
  /** State of charge, 0 to 1, and its expanded uncertainty. */
  readonly value: number;
  readonly U: number;
}

/**
 * No lead-acid battery rests higher, V for 12 V: a cell's voltage is its acid's density and 0.84 (a rule of thumb, from memory), and no acid of
 * a battery is denser than 1.32 or so. Above it a battery is of another kind, or is fed.
 */
const HIGHEST_V = 13.2;
/** Sooner than this after charging it may be what the charger left, s. */
const SURELY_RESTED_S = 8 * 3600;

export type NoCharge = 'no-stand' | 'no-rest' | 'surface-charge' | 'drawn-on' | 'flat-curve' | 'above-full';

export interface RestedCharges {
  readonly charges: readonly RestedCharge[];
  readonly reason: NoCharge;
  /** The rest that the reason is of. */
  readonly last: Rest | null;
}

/** Every rest that can tell the state of charge, in order; where there is none, the reason of the last one. */
export const restedCharges = measure((analysis, session): RestedCharges => {
  const charges: RestedCharge[] = [];
  let last: Rest | null = null;
  let reason: NoCharge = analysis.stands.length === 0 ? 'no-stand' : 'no-rest';
  for (const { rest } of presentBattery(analysis, session).stands) {
    if (!rest) continue;
    last = rest;
    const read = chargeOf(rest, session);
    // One that rests too high tells that no other rest can be read by its kind.
    if (read === 'above-full') return { charges: [], reason: read, last };
    if (typeof read === 'string') reason = read;
    else charges.push(read);
  }
  return { charges, reason, last };
});

function chargeOf(rest: Rest, session: Session): RestedCharge | NoCharge {
  if (rest.drawA !== null && rest.drawA > REST_DRAW_A) return 'drawn-on';
  if (rest.sinceChargeS < restNeededS(session.battery.chemistry).least) return 'surface-charge';
  if (isAboveFull(rest, session)) return rest.sinceChargeS < SURELY_RESTED_S ? 'surface-charge' : 'above-full';
  return chargeOfRest(rest, session) ?? 'flat-curve';
}

function isAboveFull({ volts }: Rest, { battery, vehicle }: Session): boolean {
  return !isLithium(battery.chemistry) && volts.value - expand(volts.u) > HIGHEST_V * perTwelveVolt(vehicle.systemV);
}

/** What the voltage of a rest says of the charge; null where it was too short, or says nothing. */
export function chargeOfRest(rest: Rest, session: Session): RestedCharge | null {
  const { chemistry } = session.battery;
  if (rest.sinceChargeS < restNeededS(chemistry).least || isAboveFull(rest, session)) return null;
  const charge = stateOfCharge({
    chemistry,
    systemV: session.vehicle.systemV,
    volts: rest.volts.value,
    uVolts: rest.volts.u,
    temperatureC: rest.temperatureC,
    restS: rest.sinceChargeS,
    drawA: rest.drawA,
  });
  return charge && { rest, value: charge.value, U: expand(charge.u) };
}
