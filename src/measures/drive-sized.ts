/** What a drive without charging takes from the battery, and nobody leaves switched on for so long with the engine off. */
import { perTwelveVolt, type SystemVoltage } from '../battery/chemistry.ts';

/** Common practice, no source. */
export const DRIVE_SIZED_S = 600;

/** Least draw of it, A: 5 A in a 12 V system, common practice, no source. */
export const driveSizedA = (systemV: SystemVoltage): number => 5 / perTwelveVolt(systemV);
