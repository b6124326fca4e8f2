/** Ratings of capacity against each other, and how much of it can go before the engine no longer starts. */
import { type Chemistry, isLithium, type Range } from './chemistry.ts';

/** Hours for which a capacity is rated here. */
export const RATED_H = 20;

/** Of a battery whose capacity is not stated, where shares of it are asked for, Ah. Common practice, no source. */
export const USUAL_CAPACITY_AH = 60;

/**
 * RC = β · C20^α, minutes and ampere-hours, 12 V batteries. Source: EN 50342-1 / IEC 60095-1 (from memory); gel batteries
 * keep it to 3 % by their maker’s ratings (seen). There is no such relation for lfp.
 */
const RESERVE_RELATION = {
  flooded: { alpha: 1.1828, beta: 0.7732 },
  valveRegulated: { alpha: 1.1201, beta: 1.1339 },
} as const;

function relationFor(chemistry: Chemistry) {
  if (isLithium(chemistry)) return null;
  return chemistry === 'agm' || chemistry === 'gel' ? RESERVE_RELATION.valveRegulated : RESERVE_RELATION.flooded;
}

/** Minutes at 25 A down to 10.5 V that a 20-hour capacity, Ah, is likely to give; null for lfp. */
export function reserveCapacityMin(chemistry: Chemistry, capacityAh: number): number | null {
  const relation = relationFor(chemistry);
  return relation && relation.beta * capacityAh ** relation.alpha;
}

/** 20-hour capacity, Ah, that a reserve capacity, min, is likely to stand for; null for lfp. */
export function capacityFromReserveAh(chemistry: Chemistry, reserveMin: number): number | null {
  const relation = relationFor(chemistry);
  return relation && (reserveMin / relation.beta) ** (1 / relation.alpha);
}

/**
 * Hours that a battery lasts at a current, by Peukert's relation normalised to its rating: t = T · (C / (I · T))^k.
 * At the rated current it gives the rated hours exactly. Source: published worked example (seen).
 *
 * @param exponent k, 1 for an ideal battery, about 1.05 (new AGM) to 1.6 (old flooded)
 */
export function peukertHours(asked: {
  readonly capacityAh: number;
  readonly ratedHours: number;
  readonly currentA: number;
  readonly exponent: number;
}): number {
  return asked.ratedHours * (asked.capacityAh / (asked.currentA * asked.ratedHours)) ** asked.exponent;
}

/**
 * From the best new battery to a worn one. Published by a battery dealer (seen): 1.05 to 1.15 for AGM, 1.1 to 1.25 for gel, 1.2 to 1.6
 * for flooded; worked out of makers' own ratings at 20 h and at 25 A (a table in an instrument's manual, seen): from 1.14 for flooded.
 * lfp gives nearly all of its charge at any draw: 1.02 to 1.05 (public pages, second-hand).
 */
function peukertExponents(chemistry: Chemistry): Range {
  if (isLithium(chemistry)) return { low: 1, high: 1.05 };
  return chemistry === 'agm' || chemistry === 'gel' ? { low: 1.05, high: 1.25 } : { low: 1.1, high: 1.6 };
}

/** Share of its 20-hour capacity that a battery gives at a draw, A; 1 up to the rated current, C/20. */
function shareGiven(capacityAh: number, drawA: number, exponent: number): number {
  if (drawA <= capacityAh / RATED_H) return 1;
  return (peukertHours({ capacityAh, ratedHours: RATED_H, currentA: drawA, exponent }) * drawA) / capacityAh;
}

/**
 * Charge, Ah, that can go before a no-start must be expected. A vehicle maker's bulletin (quoted on public pages, second-hand): from
 * full, 20 to 30 Ah, or about 40 % of what is available, at 25 °C; from a lower charge, less accordingly. That is read
 * both ways: `low` takes off what has gone already, `high` is 40 % of what is left, or 30 Ah from full, which count up to half
 * of a small battery (ours).
 *
 * @param charge state of charge at the start, 0 to 1
 */
export function chargeToNoStartAh(capacityAh: number, charge: number): Range {
  const goneAh = capacityAh * (1 - charge);
  const most = Math.min(30, capacityAh / 2);
  return {
    low: Math.max(0, Math.min(20, 0.4 * capacityAh) - goneAh),
    high: Math.max(0.4 * capacityAh * charge, most - goneAh),
  };
}

/**
 * Most that a parked vehicle may draw for the size of its battery, A: a quarter of the reserve capacity in minutes, in mA. Source:
 * a vehicle maker's service data, quoted (second-hand).
 */
export function drawForReserveA(reserveCapacityMin: number): number {
  return reserveCapacityMin / 4 / 1000;
}

/**
 * Days until that charge is gone, by a steady draw and self-discharge together. Infinite where nothing is drawn at all.
 * A draw above the 20-hour current leaves less to give, by Peukert's relation.
 *
 * @param toLoseAh from `chargeToNoStartAh`
 * @param drawA mean draw while parked, A; `low` and `high` are its bounds, value ∓ expanded uncertainty
 * @param lossPerDay share of the full charge, from `selfDischargePerDay`
 */
export function standDays(asked: {
  readonly chemistry: Chemistry;
  readonly capacityAh: number;
  readonly toLoseAh: Range;
  readonly drawA: Range;
  readonly lossPerDay: Range;
}): Range {
  const { chemistry, capacityAh } = asked;
  const exponent = peukertExponents(chemistry);
  const ahPerDay = (drawA: number, loss: number) => Math.max(0, drawA) * 24 + capacityAh * loss;
  return {
    low:
      (asked.toLoseAh.low * shareGiven(capacityAh, asked.drawA.high, exponent.high)) /
      ahPerDay(asked.drawA.high, asked.lossPerDay.high),
    high:
      (asked.toLoseAh.high * shareGiven(capacityAh, asked.drawA.low, exponent.low)) /
      ahPerDay(asked.drawA.low, asked.lossPerDay.low),
  };
}
