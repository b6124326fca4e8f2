/** What the charging voltage may be, by chemistry and temperature. */
import { type Chemistry, perTwelveVolt, type SystemVoltage } from './chemistry.ts';
import { interpolate } from './interpolation.ts';

export interface ChargingWindow {
  readonly minV: number;
  readonly maxV: number;
  /** Where the figures are from and how far they can be trusted, ready to print beside the limit. */
  readonly source: string;
}

interface WindowTable {
  readonly temperaturesC: readonly number[];
  readonly minV: readonly number[];
  readonly maxV: readonly number[];
  readonly source: string;
}

/** 12 V system. Source: a vehicle maker's service data (seen). */
const TYPICAL: WindowTable = {
  temperaturesC: [-20, 20, 60],
  minV: [14.0, 13.7, 13.2],
  maxV: [15.1, 14.6, 14.3],
  source: "a vehicle maker's typical window by temperature",
};

/** Start-stop vehicles hold these batteries up to 0.2 V higher (trade data sheets: 14.8 V at 20 to 25 °C; from memory). */
const ABSORBENT: WindowTable = {
  ...TYPICAL,
  maxV: TYPICAL.maxV.map((volts) => volts + 0.2),
  source: "a vehicle maker's typical window by temperature, upper end 0.2 V higher for AGM and EFB (from memory)",
};

const WINDOWS: Readonly<Record<Chemistry, WindowTable>> = {
  flooded: TYPICAL,
  efb: ABSORBENT,
  agm: ABSORBENT,
  gel: {
    // 14.4 V is where gel begins to lose water that it cannot get back; compensated by −3 mV/°C a cell.
    temperaturesC: [-20, 20, 60],
    minV: [14.0, 13.7, 13.2],
    maxV: [15.1, 14.4, 13.7],
    source: 'data sheets for gel batteries, from memory',
  },
  lfp: {
    // Charging does not change with temperature; below 0 °C the battery's own electronics should refuse it.
    temperaturesC: [20],
    minV: [13.6],
    maxV: [14.6],
    source: 'data sheets for 4-cell lithium iron phosphate batteries, from memory, weak',
  },
};

/**
 * Window of the regulated voltage with the engine running, V, straight lines between the rows of the table and held at
 * its ends. Without a temperature (null) the widest window that any temperature allows.
 *
 * A voltage below it is no fault by itself: newer vehicles lower it on purpose while the battery is full (common
 * practice, no source). Judge "low" by the charge that comes back.
 */
export function chargingWindowV(asked: {
  readonly chemistry: Chemistry;
  readonly systemV: SystemVoltage;
  readonly temperatureC: number | null;
}): ChargingWindow {
  const table = WINDOWS[asked.chemistry];
  const scale = perTwelveVolt(asked.systemV);
  if (asked.temperatureC === null) {
    const source =
      table.temperaturesC.length > 1 ? `${table.source}; widest, since no temperature was logged` : table.source;
    return { minV: scale * Math.min(...table.minV), maxV: scale * Math.max(...table.maxV), source };
  }
  return {
    minV: scale * interpolate(table.temperaturesC, table.minV, asked.temperatureC),
    maxV: scale * interpolate(table.temperaturesC, table.maxV, asked.temperatureC),
    source: table.source,
  };
}

/** Electrolyte may get no hotter than this while charging, °C. Source: NAVEDTRA 14113 (seen). */
export const HEAT_LIMIT_C = 52;
