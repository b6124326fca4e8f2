/**
 * Terminal voltages that tell whether something feeds a battery, V for 12 V. A lead battery left to itself falls to some 12.9 V
 * within minutes, one of lithium iron phosphate rests as high as 13.35 V. Common practice, no source.
 */
import { type Chemistry, perTwelveVolt, type SystemVoltage } from './chemistry.ts';

/** A lead battery that keeps more is being charged; and one of any chemistry. */
export const FED_V = 13.2;
export const FED_ANY_V = 13.6;
/** While it carries a running vehicle's consumers by itself, with nothing that charges, it gives no more. */
export const BY_ITSELF_V = 12.6;
/** From here on a running engine's generator is at work, whatever the chemistry. */
export const ENGINE_V = 13.3;

/** Above this something feeds the battery, V. */
export function fedFromV(chemistry: Chemistry, systemV: SystemVoltage): number {
  return (chemistry === 'lfp' ? FED_ANY_V : FED_V) * perTwelveVolt(systemV);
}
