/** What the voltage may fall to while the starter turns. */
import { perTwelveVolt, type SystemVoltage } from './chemistry.ts';
import { interpolate } from './interpolation.ts';

/**
 * Load-test minimum of a 12 V battery at half its cold-cranking current for 15 s, V, by the battery's temperature, °C.
 * Source: US Army TM 5-4210-230-14&P-1, Table 5 (seen). Using it for the voltage while cranking: common practice, no source.
 */
export const LOAD_TEST_C: readonly number[] = [-18, -12, -7, -1, 4, 10, 16, 21];
export const LOAD_TEST_V: readonly number[] = [8.5, 8.7, 8.9, 9.1, 9.3, 9.4, 9.5, 9.6];

/**
 * Lowest voltage to accept while cranking, after the inrush, V; straight lines between the table's rows, held at its
 * ends (9.6 V above 21 °C, 8.5 V below −18 °C, at 12 V). Where the temperature is not known (null), the strictest of the table.
 */
export function crankingMinimumV(systemV: SystemVoltage, temperatureC: number | null): number {
  const at12V = temperatureC === null ? Math.max(...LOAD_TEST_V) : interpolate(LOAD_TEST_C, LOAD_TEST_V, temperatureC);
  return perTwelveVolt(systemV) * at12V;
}

/**
 * The inrush of the starter dips lower in a healthy vehicle too and lasts 0.1 to 0.3 s: the time to leave out, s.
 * Common practice, no source.
 */
export const INRUSH_S = 0.3;

/** Most that the positive cable may lose while cranking, 12 V system, V. Source: TM 10-3930-671-24, p. F-303 (seen). */
export const POSITIVE_CABLE_DROP_V = 0.4;

/** Longest crank, s; 2 min to cool after it. Source: TM 10-3930-671-24, p. F-303 (seen). */
export const LONGEST_CRANK_S = 30;
