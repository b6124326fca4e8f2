/**
 * State of charge from the voltage of a battery that has rested, with an uncertainty that says how far the published
 * tables, the make, the length of the rest, the temperature and the draw leave it open.
 *
 * All tables are for 12 V at about 25 °C; other system voltages scale with the number of cells.
 */
import { type Chemistry, isLithium, perTwelveVolt, type SystemVoltage } from './chemistry.ts';
import { CELL_OFFSETS_V, restVoltageFromDensityV, TABLE_CHARGES, TABLE_DENSITIES } from './density.ts';
import { extrapolate, interpolate } from './interpolation.ts';
import { combine, rectangular } from './uncertainty.ts';

interface RestCurve {
  readonly charges: readonly number[];
  /** Rested voltage of a 12 V battery at each charge, V. */
  readonly volts: readonly number[];
  /** Half-width of what tables and makes leave open at each charge, V. */
  readonly spreadV: readonly number[];
  /** Voltage above the rested one that may be left soon after charging, V. */
  readonly surfaceV: number;
  /** Within these volts the charge can be anything: no answer. */
  readonly plateauV?: readonly [number, number];
  readonly restS: RestNeeded;
}

export interface RestNeeded {
  /** Below this rest, s, the surface charge is too large for any statement on the charge. */
  readonly least: number;
  /** From this rest on, s, the published relation holds as it stands. */
  readonly full: number;
}

const HOUR_S = 3600;

/**
 * Flooded, four published tables at 0, 25, 50, 75 and 100 %. They differ by up to 0.19 V when empty, 0.06 V when full; the
 * curve is the middle. Sources: US Army TM 5-3805-262-20, p. 5-142 (seen); a battery maker's table at 80 °F (seen); density of
 * TM 5-3820-256-24-4, Table 2, + 0.84 V a cell (TM 5-684, eq. 14-1, seen) and + 0.845 V (DOE-HDBK-1084-95, p. 18, seen in excerpt).
 */
export const FLOODED_TABLES_V: readonly (readonly number[])[] = [
  [11.7, 12.0, 12.2, 12.4, 12.6],
  [11.89, 12.06, 12.24, 12.45, 12.65],
  ...CELL_OFFSETS_V.map((offsetV) => TABLE_DENSITIES.map((density) => restVoltageFromDensityV(density, 12, offsetV))),
];

const floodedEnds = TABLE_CHARGES.map((_, row) => {
  const printed = FLOODED_TABLES_V.map((table) => table[row]);
  return { low: Math.min(...printed), high: Math.max(...printed) };
});

/** +0.2 mV/°C a cell. Source: Bode; Linden (from memory). */
const LEAD_PER_DEGREE_V = 6 * 0.0002;

/**
 * Change of a rested 12 V lead battery from 26.7 °C, V, the same at every charge. Source: a published table with columns for wet
 * and gel batteries, quoted in an open repository (age-series/ElectricalAge2, datasets; second-hand).
 */
export const COLD_TABLE_C: readonly number[] = [
  -17.8, -12.2, -6.7, -1.1, 4.4, 10, 15.6, 21.1, 26.7, 32.2, 37.8, 43.3, 48.9,
];
export const COLD_TABLE_V: readonly number[] = [
  -0.134, -0.108, -0.084, -0.062, -0.044, -0.028, -0.016, -0.007, 0, 0.005, 0.008, 0.011, 0.013,
];

/**
 * By how much a rested lead battery of 12 V reads differently at a temperature than at 25 °C, V: the middle of the two published
 * relations, which differ in the cold, and half of that difference. Below the table's last row its last line goes on.
 */
export function coldShiftV(temperatureC: number): { readonly middleV: number; readonly halfV: number } {
  const fromTable = (c: number) =>
    c < COLD_TABLE_C[0] ? extrapolate(COLD_TABLE_C, COLD_TABLE_V, c) : interpolate(COLD_TABLE_C, COLD_TABLE_V, c);
  const table = fromTable(temperatureC) - fromTable(REFERENCE_C);
  const line = LEAD_PER_DEGREE_V * (temperatureC - REFERENCE_C);
  return { middleV: (table + line) / 2, halfV: Math.abs(table - line) / 2 };
}

/**
 * Left above the rested voltage just after charging. A good used battery is above 12.85 V just off charge and above
 * 12.65 V after 8 h, so 0.2 V at least (TB 9-6140-252-13, WP 0011, seen). A charged 12 V battery of V. Sulzer's open
 * telemetry (repository faster-lead-acid, seen) reads 13.3 V at once and 13.1 V after 1.8 h, on its way to about 12.9 V.
 */
const LEAD_SURFACE_V = 0.4;

const CURVES: Readonly<Record<Chemistry, RestCurve>> = {
  flooded: {
    charges: TABLE_CHARGES,
    volts: floodedEnds.map(({ low, high }) => (low + high) / 2),
    // The tables leave 0.03 V to 0.1 V either way. Many newer makes are filled to 1.280 (a battery maker's test page, seen), not the tables' 1.265, and
    // rest 0.09 V higher when full (by the density's relation): this half-width, expanded, reaches the middle of both.
    spreadV: floodedEnds.map(({ low, high }) => Math.max(0.07, (high - low) / 2)),
    surfaceV: LEAD_SURFACE_V,
    // Full: TM 5-684, eq. 14-1 (seen). Least: TB 9-6140-252-13, WP 0011 (seen).
    restS: { least: 8 * HOUR_S, full: 16 * HOUR_S },
  },
  efb: {
    // From memory, weak: the same acid as flooded, filled to about 1.280 when full.
    charges: TABLE_CHARGES,
    volts: [11.75, 12.0, 12.22, 12.45, 12.7],
    spreadV: [0.08],
    surfaceV: LEAD_SURFACE_V,
    // As flooded (no source of its own).
    restS: { least: 8 * HOUR_S, full: 16 * HOUR_S },
  },
  agm: {
    // 12.0, 12.3, 12.6 V part the quarters, 12.8 to 13.2 V is full: an off-road vehicle maker's owner's manual, AGM charging table
    // (seen). Full: 12.8 to 13.0 V, TM 9-6115-730-24, WP 0050 (seen), so the spread is wide. Empty: from memory, weak.
    charges: TABLE_CHARGES,
    volts: [11.8, 12.0, 12.3, 12.6, 12.87],
    spreadV: [0.1],
    surfaceV: LEAD_SURFACE_V,
    // "At least 3 h, better 8 h": TM 9-6115-730-24, WP 0050 (seen).
    restS: { least: 3 * HOUR_S, full: 8 * HOUR_S },
  },
  gel: {
    // From memory, weak.
    charges: TABLE_CHARGES,
    volts: [11.8, 12.0, 12.35, 12.65, 12.85],
    spreadV: [0.1],
    surfaceV: LEAD_SURFACE_V,
    // From memory, weak: the gel holds the acid, so it evens out more slowly than in AGM.
    restS: { least: 8 * HOUR_S, full: 24 * HOUR_S },
  },
  lfp: {
    // Four cells; 3.00 V empty, 3.20 V at 10 %, 3.25 V at 20 %, 3.33 V at 95 %, 3.38 V full (from memory, weak).
    charges: [0, 0.1, 0.2, 0.95, 1],
    volts: [12.0, 12.8, 13.0, 13.32, 13.52],
    spreadV: [0.1],
    surfaceV: 0.2,
    plateauV: [12.9, 13.42],
    // From memory, weak.
    restS: { least: 2 * HOUR_S, full: 8 * HOUR_S },
  },
  nmc: {
    // No published table was found, and packs differ by the number and kind of their cells: the ends are nominal (from
    // memory, weak), and the charge is never told.
    charges: [0, 1],
    volts: [12.0, 15.5],
    spreadV: [0.5],
    surfaceV: 0.2,
    plateauV: [Number.NEGATIVE_INFINITY, Number.POSITIVE_INFINITY],
    restS: { least: 2 * HOUR_S, full: 8 * HOUR_S },
  },
};

/** A 12 V battery's resistance to a small steady draw: 0 to 40 mΩ, 20 mΩ taken (from memory, weak). */
const DRAW_OHM = 0.02;
/** Where no current is logged the draw of a parked vehicle is taken to be below this, A (common practice, no source). */
const UNSEEN_DRAW_A = 0.5;
const REFERENCE_C = 25;
/** Where no temperature is logged it is taken to lie within this of the reference, °C (ours). */
const UNSEEN_TEMPERATURE_C = 30;

/**
 * Voltage of a rested battery at 25 °C for a charge of 0 to 1, V, at the battery's posts, nothing drawn.
 * Sources and standing: see the table of each chemistry in this file. For lfp the plateau's slope is nominal.
 */
export function restVoltageV(chemistry: Chemistry, systemV: SystemVoltage, charge: number): number {
  const curve = CURVES[chemistry];
  return perTwelveVolt(systemV) * interpolate(curve.charges, curve.volts, charge);
}

/** How long a battery must have been off charge for its voltage to tell its charge, s. */
export function restNeededS(chemistry: Chemistry): RestNeeded {
  return CURVES[chemistry].restS;
}

/**
 * What may be left of the surface charge after a rest, V: falls to a fiftieth over the full rest that is asked for.
 * The exponential is ours; its ends are those of `surfaceV` and `restNeededS`.
 */
export function surfaceChargeV(chemistry: Chemistry, systemV: SystemVoltage, restS: number): number {
  const { surfaceV, restS: needed } = CURVES[chemistry];
  return perTwelveVolt(systemV) * surfaceV * 50 ** (-Math.max(0, restS) / needed.full);
}

export interface RestReading {
  readonly chemistry: Chemistry;
  readonly systemV: SystemVoltage;
  /** As logged, V. */
  readonly volts: number;
  /** Its standard uncertainty, V. */
  readonly uVolts: number;
  /** Of the battery, °C; null where not logged: the uncertainty grows. */
  readonly temperatureC: number | null;
  /** Time since the battery was last charged, s. */
  readonly restS: number;
  /** Steady draw at the time, A, positive out of the battery; null where not logged: the uncertainty grows. */
  readonly drawA: number | null;
}

/**
 * State of charge, 0 to 1, and its standard uncertainty (k = 1). The value stays within 0 and 1; the uncertainty is
 * that of the curve there, not cut off.
 *
 * Surface charge only ever adds voltage: half of what may be left is taken off, and the whole of it is the width of the
 * uncertainty (JCGM 100, 4.3.8, from memory). A rest shorter than `restNeededS(chemistry).least` still gets an answer,
 * with that wide uncertainty: whether to use it is the caller's decision. After a heavy draw the opposite holds, and a
 * battery still recovering reads too low: that is not corrected, so the caller must offer a rest without one.
 *
 * Null where the voltage cannot tell: on the plateau of lfp, where a tenth of a volt spans most of the charge, and where
 * the reading is not a number.
 */
export function stateOfCharge(reading: RestReading): { readonly value: number; readonly u: number } | null {
  if (!Number.isFinite(reading.volts) || !Number.isFinite(reading.uVolts)) return null;
  const curve = CURVES[reading.chemistry];
  const { volts, u } = restedVolts(reading, curve);
  if (curve.plateauV && volts > curve.plateauV[0] && volts < curve.plateauV[1]) return null;

  const value = Math.min(1, Math.max(0, extrapolate(curve.volts, curve.charges, volts)));
  const heldV = interpolate(curve.volts, curve.volts, volts);
  const above = extrapolate(curve.volts, curve.charges, heldV + u);
  const below = extrapolate(curve.volts, curve.charges, heldV - u);
  return { value, u: (above - below) / 2 };
}

/** Without a temperature: anything from a cold night to a hot day. */
function shiftAt(temperatureC: number | null) {
  if (temperatureC !== null) return coldShiftV(temperatureC);
  const cold = coldShiftV(REFERENCE_C - UNSEEN_TEMPERATURE_C);
  const warm = coldShiftV(REFERENCE_C + UNSEEN_TEMPERATURE_C);
  return { middleV: 0, halfV: Math.max(Math.abs(cold.middleV), Math.abs(warm.middleV)) };
}

/** The reading as a 12 V battery would show it at 25 °C, at rest, with nothing drawn. */
function restedVolts(reading: RestReading, curve: RestCurve): { readonly volts: number; readonly u: number } {
  const scale = perTwelveVolt(reading.systemV);
  const surfaceV = surfaceChargeV(reading.chemistry, 12, reading.restS);
  const cold = isLithium(reading.chemistry) ? { middleV: 0, halfV: 0 } : shiftAt(reading.temperatureC);
  const drawA = reading.drawA ?? 0;
  const volts = reading.volts / scale - surfaceV / 2 - cold.middleV + DRAW_OHM * drawA;
  return {
    volts,
    u: combine(
      reading.uVolts / scale,
      rectangular(curve.spreadV.length > 1 ? interpolate(curve.volts, curve.spreadV, volts) : curve.spreadV[0]),
      rectangular(surfaceV / 2),
      rectangular(cold.halfV),
      rectangular(DRAW_OHM * (reading.drawA === null ? UNSEEN_DRAW_A : drawA)),
    ),
  };
}
