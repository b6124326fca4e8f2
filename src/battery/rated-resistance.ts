/** The internal resistance that a cold-cranking rating allows for. */
import { perTwelveVolt, type SystemVoltage } from './chemistry.ts';

/**
 * Voltage of a 12 V battery that its rated current may pull it down to at −18 °C, and after how long, s.
 * Sources: SAE J537 (second-hand); EN 50342-1 (second-hand, from memory); IEC 60095-1 and the former DIN 43539-2 (from
 * memory, weak).
 */
export const COLD_CRANKING = {
  SAE: { volts: 7.2, seconds: 30 },
  EN: { volts: 7.5, seconds: 10 },
  IEC: { volts: 8.4, seconds: 60 },
  DIN: { volts: 9.0, seconds: 30 },
} as const;

/** A full lead-acid battery at rest and −18 °C, V: the published tables' 12.6 V (see `rest-voltage.ts`), less 0.05 V for the cold. */
const COLD_FULL_V = 12.55;

/**
 * Resistance of a battery that only just meets its rating, Ω: (rest voltage − end voltage) / rated current, at −18 °C.
 * A battery that shows more than this when warmer cannot meet its rating, since resistance rises in the cold; one that
 * shows less is not thereby proven good. Computed from the rating; holds for lead-acid.
 */
export function ratedResistanceOhm(rating: {
  readonly coldCrankingA: number;
  readonly standard: keyof typeof COLD_CRANKING;
  readonly systemV: SystemVoltage;
}): number {
  const fallV = COLD_FULL_V - COLD_CRANKING[rating.standard].volts;
  return (perTwelveVolt(rating.systemV) * fallV) / rating.coldCrankingA;
}
