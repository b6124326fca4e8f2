/** The drives of a log as both charging checks judge them. */
import type { Drive, Measured } from '../analysis/model.ts';
import { type ChargingWindow, chargingWindowV } from '../battery/charging.ts';
import { measure } from './measure.ts';

/** A drive shorter than this says little about charging: the regulator has hardly settled, s. */
export const SHORTEST_DRIVE_S = 300;

export interface JudgedDrive {
  readonly drive: Drive;
  readonly seconds: number;
  /** Voltages that 95 % and half of the drive lie below, after its first 2 min; the latter has the former's uncertainty. */
  readonly high: Measured;
  readonly middle: Measured;
  readonly window: ChargingWindow;
}

/** Drives long enough to judge, each with the window for its temperature. */
export const judgedDrives = measure((analysis, session): JudgedDrive[] =>
  analysis.drives.flatMap((drive) => {
    const seconds = drive.end - drive.start;
    if (drive.voltsHigh === null || seconds < SHORTEST_DRIVE_S) return [];
    const window = chargingWindowV({
      chemistry: session.battery.chemistry,
      systemV: session.vehicle.systemV,
      temperatureC: drive.temperatureC,
    });
    const middle = { value: drive.voltsMedian, u: drive.voltsHigh.u, k: drive.voltsHigh.k };
    return [{ drive, seconds, high: drive.voltsHigh, middle, window }];
  }),
);
