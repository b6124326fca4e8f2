/**
 * What is known of the battery from everything together, where its rested charge is too low: empty, a cell that failed, or a
 * charge that it does not hold. Null where none of them is sure: then it is low, and no more.
 */

import type { Analysis, Stand } from '../analysis/model.ts';
import { tilesWithin } from '../analysis/tiles/tiles-in.ts';
import { accuracyOf } from '../analysis/uncertain.ts';
import { chargingWindowV } from '../battery/charging.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { stateOfCharge } from '../battery/rest-voltage.ts';
import { mean } from '../battery/statistics.ts';
import type { Session } from '../manifest/session.ts';
import { netChargeAh } from './charge-counted.ts';
import { measure } from './measure.ts';
import { presentBattery } from './present-battery.ts';
import { type RestedCharge, restedCharges } from './rested-charge.ts';
import { mostBy, secondsOf } from './spans.ts';

/** Surely below this a battery cannot be counted on to start an engine, 0 to 1. Common practice, no source. */
const EMPTY = 0.25;
/** A 12 V battery with a dead cell rests at some 10.5 V: five cells of 2.1 V. Above this it may be empty as well, V. Common practice, no source. */
const CELL_V = 11.2;
/** What was taken since it was charged explains no dead cell up to this share of the capacity. Common practice, no source. */
const TAKEN_MOST = 0.2;
/** A loss beyond what was counted by less than this may be the tables', share of the capacity. Common practice, no source. */
const LOSS_LEAST = 0.1;
/**
 * And within one stand: what sinks so far beyond what was drawn, share of the capacity, is more than any settling: from so long after its
 * begin on, and over so long, s. Of two readings a few days apart the tables' own doubt is the same, and cancels; what is left of
 * surface charge after a day is less than in the first night. Common practice, no source.
 */
const FALLS = [
  { settledS: 16 * 3600, leastS: 24 * 3600, least: 0.15, byAnyTemperature: true },
  { settledS: 24 * 3600, leastS: 72 * 3600, least: 0.1, byAnyTemperature: false },
] as const;
/** A worn battery holds half of its rating: what was drawn then counts twice, and explains what is lost. Common practice, no source. */
const MOSTLY_DRAWN = 0.5;
/** Charging that comes this near its window counts as charging, V for 12 V. */
const NEAR_V = 0.3;

interface ChargeAt {
  readonly t: number;
  readonly charge: number;
}

export interface BatteryState {
  readonly state: 'empty' | 'cell' | 'not-held' | null;
  /** Shares of the capacity, 0 to 1, from the highest rested charge to the latest: lost by the voltage, and counted out by the current. */
  readonly lostShare: number;
  readonly takenShare: number;
  /** Share of the capacity a day that it loses by itself, where the log shows a charge that is not held; else null. */
  readonly lossPerDay: number | null;
  /** Where and when it fell from, within one stand; null where that is not why. */
  readonly fellFrom: ChargeAt | null;
  readonly fellTo: ChargeAt | null;
}

const WINDOW_S = 1200;
const UNREAD_S = 600;

/** What a parked battery lost between its settled begin and its end beyond what was drawn; null where that is too little, or it stood for too short. */
function fallWithin(analysis: Analysis, session: Session, stand: Stand, asked: (typeof FALLS)[number]) {
  const { rest, sleepDrawA } = stand;
  const { capacityAh } = session.battery;
  const from = stand.start + asked.settledS;
  if (!rest || !sleepDrawA || capacityAh === undefined || rest.at - from < asked.leastS) return null;
  // What flowed while nothing was read would look like a loss.
  if (secondsOf(analysis.periods, ['no-data', 'disconnected'], from, rest.at) > UNREAD_S) return null;
  const inside = tilesWithin(analysis.tiles, { start: from, end: from + WINDOW_S });
  const volts = mean(inside.map((k) => analysis.tiles.v[k]).filter((v) => !Number.isNaN(v)));
  const warm = inside.map((k) => analysis.tiles.temp[k]).filter((c) => !Number.isNaN(c));
  const read = (v: number, temperatureC: number | null, restS: number) =>
    stateOfCharge({
      chemistry: session.battery.chemistry,
      systemV: session.vehicle.systemV,
      volts: v,
      uVolts: rest.volts.u,
      temperatureC,
      restS,
      drawA: sleepDrawA.value,
    });
  if (!asked.byAnyTemperature && (warm.length === 0 || rest.temperatureC === null)) return null;
  const begin = read(volts, warm.length > 0 ? mean(warm) : null, asked.settledS);
  const end = read(rest.volts.value, rest.temperatureC, rest.sinceChargeS);
  if (!begin || !end) return null;
  const seconds = rest.at - from;
  const lost = begin.value - end.value;
  const took = Math.max(0, -netChargeAh(analysis.periods, from, rest.at) / capacityAh);
  // The sensor's zero may hide as much as its maker leaves open.
  const hidden =
    ((accuracyOf('current', session).absolute * seconds) / 3600 / capacityAh) * (asked.byAnyTemperature ? 0 : 1);
  if (lost - took - hidden <= asked.least || took > MOSTLY_DRAWN * lost) return null;
  const fellFrom = { t: from, charge: begin.value };
  return {
    lost,
    took,
    lossPerDay: ((lost - took) * 86_400) / seconds,
    fellFrom,
    fellTo: { t: rest.at, charge: end.value },
  };
}

export const batteryState = measure((whole, session): BatteryState => {
  const analysis = presentBattery(whole, session);
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
  const shares = { lostShare, takenShare, lossPerDay: null, fellFrom: null, fellTo: null };
  if (!latest || !highest) return { state: null, ...shares };

  const lastDrive = analysis.drives.findLast((drive) => drive.end <= latest.rest.at);
  const { minV } = chargingWindowV({ chemistry, systemV, temperatureC: null });
  const scale = perTwelveVolt(systemV);
  const wasCharged = (lastDrive?.voltsMedian ?? 0) >= minV - NEAR_V * scale;
  const sinceAh = lastDrive && analysis.has.current ? takenAh(lastDrive.end, latest.rest.at) : null;
  const took = sinceAh !== null && capacityAh !== undefined && sinceAh < TAKEN_MOST * capacityAh;
  if (latest.rest.volts.value < CELL_V * scale && wasCharged && took) return { state: 'cell', ...shares };

  const counts = capacityAh !== undefined && analysis.has.current && highest !== latest;
  const isUnexplained = takenShare <= MOSTLY_DRAWN * lostShare;
  if (counts && isUnexplained && lostShare - takenShare > highest.U + latest.U + LOSS_LEAST) {
    const days = (latest.rest.at - highest.rest.at) / 86_400;
    return { ...shares, state: 'not-held', lossPerDay: days > 0 ? (lostShare - takenShare) / days : null };
  }
  const falls = analysis.has.current
    ? analysis.stands.flatMap((stand) => FALLS.flatMap((asked) => fallWithin(analysis, session, stand, asked) ?? []))
    : [];
  const fall = mostBy(falls, ({ lost }) => lost);
  if (fall) {
    const { lost, took, lossPerDay, fellFrom, fellTo } = fall;
    return { state: 'not-held', lostShare: lost, takenShare: took, lossPerDay, fellFrom, fellTo };
  }
  return { state: latest.value + latest.U < EMPTY ? 'empty' : null, ...shares };
});
