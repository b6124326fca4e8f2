/** What the charging voltage may be, by chemistry and temperature. */
import { type Chemistry, isLithium, perTwelveVolt, type SystemVoltage } from './chemistry.ts';
import { interpolate } from './interpolation.ts';

/** Where a figure is from and how far it can be trusted, ready to print beside the limit. */
type Source = string;

export interface ChargingWindow {
  /** Lower end of the usual windows: charging that reaches it is in order. */
  readonly minV: number;
  readonly minSource: Source;
  /** Upper end of the windows in which a regulator holds the voltage: up to here charging is in order; null: none was found. */
  readonly usualV: number | null;
  readonly usualSource: Source;
  /** Beyond what any published window allows; null where none was found for the chemistry. */
  readonly mostV: number | null;
  readonly mostSource: Source;
}

/**
 * Windows of the regulated voltage, 12 V system, by the temperature at the regulator. All from vehicle makers' service data,
 * seen: one small car (2018), the same car for another market, and a light utility vehicle.
 */
export const REGULATOR_WINDOWS: readonly {
  readonly temperaturesC: readonly number[];
  readonly minV: readonly number[];
  readonly maxV: readonly number[];
}[] = [
  { temperaturesC: [-20, 20, 60, 80], minV: [14.0, 13.7, 13.2, 12.9], maxV: [15.1, 14.6, 14.3, 14.1] },
  { temperaturesC: [-20, 20, 60, 80], minV: [14.2, 13.9, 13.4, 13.1], maxV: [15.4, 14.9, 14.6, 14.5] },
  { temperaturesC: [-20, 20, 60, 80], minV: [14.2, 14.0, 13.7, 13.5], maxV: [15.4, 15.0, 14.9, 14.7] },
];

/**
 * The upper of two settings that an engine's computer may command: 15.3 V at 25 °C, falling when warmer (a vehicle maker's
 * service data, quoted, second-hand); the slope is an engine maker's 0.1 V for each 10 °C (seen). When colder no more is
 * taken than the widest window has.
 */
const COMMANDED_V = 15.3;
const COMMANDED_C = 25;
const FALLS_V_PER_DEGREE = 0.01;

const WINDOWS_SOURCE = "vehicle makers' regulator windows by temperature (three published tables, seen)";
const NO_WINDOW = 'no published window was found for this chemistry';
const MOST_SOURCE =
  "the widest of vehicle makers' published settings by temperature (three tables seen, and 15.3 V commanded, second-hand)";

/**
 * Four cells of lithium iron phosphate, V: charged to 14.6, each cell cut off at 3.80 ± 0.03 (two battery makers' data sheets, seen).
 * Charging does not change with temperature; below 0 °C the battery's own electronics should refuse it.
 */
const LFP = {
  minV: 13.6,
  usualV: 14.6,
  mostV: 4 * 3.77,
  usualSource: "two battery makers' data sheets, seen: charged to 14.6 V",
  mostSource: "a battery maker's data sheet, seen: each cell cut off at 3.80 V ± 0.03 V",
} as const;

/**
 * Gel gives off gas that it cannot get back above 14.1 V (one maker, 20 °C) to 14.4 V (practice, 25 °C): quoted, second-hand. No
 * published end of the window was found, and the widest of the vehicle makers' are for other batteries: half a volt more than usual
 * is taken for too much (common practice, no source).
 */
const GEL = {
  usualV: 14.4,
  usualSource: 'gel batteries: 14.1 to 14.4 V at 20 to 25 °C, quoted, second-hand',
  mostV: 14.9,
  mostSource: 'half a volt above what is usual for gel batteries: common practice, no source',
} as const;

/**
 * Window of the charging voltage with the engine or the converter running, V. Without a temperature (null) the widest that
 * any temperature allows. A battery is rarely warmer than the regulator, for which the tables hold; where it is
 * colder, the window at the battery's temperature is the wider one.
 *
 * A voltage below `minV` is no fault by itself: newer vehicles lower it on purpose, to 12.0 V (a vehicle maker's service
 * data, second-hand). Judge "low" by the charge that comes back.
 */
export function chargingWindowV(asked: {
  readonly chemistry: Chemistry;
  readonly systemV: SystemVoltage;
  readonly temperatureC: number | null;
}): ChargingWindow {
  const scale = perTwelveVolt(asked.systemV);
  if (isLithium(asked.chemistry)) return lithiumWindow(asked.chemistry, scale);
  const widest = asked.temperatureC === null ? '; widest, since no temperature was logged' : '';
  const at = (column: 'minV' | 'maxV', most: (...values: number[]) => number) => {
    const values = REGULATOR_WINDOWS.flatMap((window) =>
      asked.temperatureC === null
        ? window[column]
        : [interpolate(window.temperaturesC, window[column], asked.temperatureC)],
    );
    return scale * most(...values);
  };
  const highestV = at('maxV', Math.max);
  const commandedV =
    scale * (COMMANDED_V - FALLS_V_PER_DEGREE * Math.max(0, (asked.temperatureC ?? COMMANDED_C) - COMMANDED_C));
  const isGel = asked.chemistry === 'gel';
  return {
    minV: at('minV', Math.min),
    minSource: WINDOWS_SOURCE + widest,
    usualV: isGel ? scale * GEL.usualV : highestV,
    usualSource: isGel ? GEL.usualSource : WINDOWS_SOURCE + widest,
    mostV: isGel ? scale * GEL.mostV : Math.max(highestV, commandedV),
    mostSource: isGel ? GEL.mostSource : MOST_SOURCE + widest,
  };
}

function lithiumWindow(chemistry: 'lfp' | 'nmc', scale: number): ChargingWindow {
  if (chemistry === 'nmc') {
    // Packs of four such cells are full at 15.5 V and more, by vehicle; no published window was found.
    const source = NO_WINDOW;
    return {
      minV: scale * LFP.minV,
      minSource: source,
      usualV: null,
      usualSource: source,
      mostV: null,
      mostSource: source,
    };
  }
  return {
    minV: scale * LFP.minV,
    minSource: LFP.usualSource,
    usualV: scale * LFP.usualV,
    usualSource: LFP.usualSource,
    mostV: scale * LFP.mostV,
    mostSource: LFP.mostSource,
  };
}

/** Electrolyte may get no hotter than this while charging, °C. Source: NAVEDTRA 14113 (seen). */
export const HEAT_LIMIT_C = 52;
