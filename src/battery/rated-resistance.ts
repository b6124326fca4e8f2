/** The internal resistance that a cold-cranking rating allows for. */
import { perTwelveVolt, type SystemVoltage } from './chemistry.ts';
import { crankingMinimumV } from './cranking.ts';
import { coldShiftV } from './rest-voltage.ts';

/**
 * Voltage of a 12 V battery that its rated current may pull it down to at −18 °C, and after how long, s. All four as a
 * battery maker's public glossary prints them (second-hand; the standards themselves were not seen): SAE J537, EN 50342-1, DIN
 * 43539-2 (withdrawn). IEC 60095-1 as a test laboratory's page prints its edition of 2018 (second-hand); older editions asked for 8.4 V
 * after 60 s. A label does not name its edition, so a battery marked IEC is taken by the newer, more lenient one.
 */
export const COLD_CRANKING = {
  SAE: { volts: 7.2, seconds: 30 },
  EN: { volts: 7.5, seconds: 10 },
  IEC: { volts: 7.2, seconds: 30 },
  DIN: { volts: 9.0, seconds: 30 },
} as const;

/** A full lead-acid battery at rest and 25 °C, V: the published tables' (see `rest-voltage.ts`). */
const FULL_V = 12.63;

/** Temperature of the ratings, °C. */
export const RATED_AT_C = -18;

/** Fall of voltage that the published load test leaves a battery at a temperature, V at 12 V. */
const loadTestFallV = (temperatureC: number) =>
  FULL_V + coldShiftV(temperatureC).middleV - crankingMinimumV(12, temperatureC);

/**
 * Resistance of a battery that only just meets its rating, Ω: (rest voltage − end voltage) / rated current at −18 °C. A warmer
 * battery must show less: by as much as the published load test asks less of a fall from it (US Army TM 5-4210-230-14&P-1,
 * Table 5: 3.0 V at 21 °C, 4.0 V at −18 °C, at the same current), held at that table's ends. A battery that shows more cannot meet
 * its rating; one that shows less is not thereby proven good. Computed; holds for lead-acid.
 *
 * @param temperatureC of the battery; null: the rating's own, the most lenient
 */
export function ratedResistanceOhm(rating: {
  readonly coldCrankingA: number;
  readonly standard: keyof typeof COLD_CRANKING;
  readonly systemV: SystemVoltage;
  readonly temperatureC: number | null;
}): number {
  const fallV = FULL_V + coldShiftV(RATED_AT_C).middleV - COLD_CRANKING[rating.standard].volts;
  const warmer = loadTestFallV(Math.max(RATED_AT_C, rating.temperatureC ?? RATED_AT_C)) / loadTestFallV(RATED_AT_C);
  return (perTwelveVolt(rating.systemV) * fallV * warmer) / rating.coldCrankingA;
}
