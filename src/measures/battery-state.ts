/**
 * What is known of the battery from everything together, where its rested charge is too low: empty, a cell that failed, or a
 * charge that it does not hold. Null where none of them is sure: then it is low, and no more.
 */

import { chargingWindowV } from '../battery/charging.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { netChargeAh } from './charge-counted.ts';
import { measure } from './measure.ts';
import { type RestedCharge, restedCharges } from './rested-charge.ts';
import { mostBy } from './spans.ts';

/** Surely below this a battery cannot be counted on to start an engine, 0 to 1. Common practice, no source. */
const EMPTY = 0.25;
/** A 12 V battery with a dead cell rests at some 10.5 V: five cells of 2.1 V. Above this it may be empty as well, V. Common practice, no source. */
const CELL_V = 11.2;
/** What was taken since it was charged explains no dead cell up to this share of the capacity. Common practice, no source. */
const TAKEN_MOST = 0.2;
/** A loss beyond what was counted by less than this may be the tables', share of the capacity. Common practice, no source. */
const LOSS_LEAST = 0.1;
/** Charging that comes this near its window counts as charging, V for 12 V. */
const NEAR_V = 0.3;

export interface BatteryState {
  readonly state: 'empty' | 'cell' | 'not-held' | null;
  /** Shares of the capacity, 0 to 1, from the highest rested charge to the latest: lost by the voltage, and counted out by the current. */
  readonly lostShare: number;
  readonly takenShare: number;
}

export const batteryState = measure((analysis, session): BatteryState => {
  const { charges } = restedCharges(analysis, session);
  const latest = charges.at(-1);
  const highest = mostBy(charges, (charge) => charge.value);
  const { capacityAh, chemistry } = session.battery;
  const { systemV } = session.vehicle;
  const takenAh = (from: number, to: number) => -netChargeAh(analysis.periods, from, to);
  const taken = (from: RestedCharge, to: RestedCharge) =>
    capacityAh && analysis.has.current ? takenAh(from.rest.at, to.rest.at) / capacityAh : 0;
  const lostShare = latest && highest ? highest.value - latest.value : 0;
  const takenShare = latest && highest ? Math.max(0, taken(highest, latest)) : 0;
  const shares = { lostShare, takenShare };
  if (!latest || !highest) return { state: null, ...shares };

  const lastDrive = analysis.drives.findLast((drive) => drive.end <= latest.rest.at);
  const { minV } = chargingWindowV({ chemistry, systemV, temperatureC: null });
  const scale = perTwelveVolt(systemV);
  const wasCharged = (lastDrive?.voltsMedian ?? 0) >= minV - NEAR_V * scale;
  const sinceAh = lastDrive && analysis.has.current ? takenAh(lastDrive.end, latest.rest.at) : null;
  const took = sinceAh !== null && capacityAh !== undefined && sinceAh < TAKEN_MOST * capacityAh;
  if (latest.rest.volts.value < CELL_V * scale && wasCharged && took) return { state: 'cell', ...shares };

  const counts = capacityAh !== undefined && analysis.has.current && highest !== latest;
  if (counts && lostShare - takenShare > highest.U + latest.U + LOSS_LEAST) return { state: 'not-held', ...shares };
  return { state: latest.value + latest.U < EMPTY ? 'empty' : null, ...shares };
});
