/** Trips of an invented vehicle: to work and back on most days, with a starter that suits its voltage and the weather. */

import type { SystemVoltage } from '../../src/battery/chemistry.ts';
import { DIESEL_CRANK, PETROL_CRANK } from '../../src/demo/parts.ts';
import type { Random } from '../../src/demo/random.ts';
import type { BatterySpec, CrankSpec, DriveSpec } from '../../src/demo/scenario.ts';
import type { Powertrain } from '../../src/manifest/session.ts';
import { shutdownStages } from './shutdown.ts';

const MIN = 60;
const HOUR = 3600;
const DAY = 86400;

/** The kind of vehicle, drawn first since everything else depends on it. */
export interface Kind {
  readonly powertrain: Powertrain;
  readonly systemV: SystemVoltage;
  readonly battery: BatterySpec;
  readonly meanC: number;
}

/** Between any two trips at least `settleS` and an hour are left, so that a vehicle can sleep. */
export function randomDrives(
  random: Random,
  kind: Kind,
  seconds: number,
  settleS: number,
  sleepA: number,
): DriveSpec[] {
  const drives: DriveSpec[] = [];
  let free = 0.5 * HOUR;
  for (let day = 0; day * DAY < seconds; day++) {
    for (const hour of [random.between(1, 3.5), random.between(9, 13)]) {
      const at = day * DAY + hour * HOUR;
      if (at < free || !random.chance(0.75)) continue;
      const drive = randomDrive(random, kind, at, settleS, sleepA);
      const end = at + drive.seconds + 180;
      if (end > seconds) continue;
      drives.push(drive);
      free = end + settleS + HOUR;
    }
  }
  return drives;
}

function randomDrive(random: Random, kind: Kind, at: number, settleS: number, sleepA: number): DriveSpec {
  const combustion = kind.powertrain === 'combustion';
  const lengthS = random.between(8, kind.systemV === 24 ? 150 : 60) * MIN;
  const crank = randomCrank(random, kind);
  const failed = combustion && random.chance(0.08);
  const seconds = failed && random.chance(0.4) ? 0 : lengthS;
  const cold = kind.meanC < 10;
  return {
    at,
    seconds,
    unlockS: random.between(0, 50),
    unlockA: random.between(2.5, 7),
    keyOnS: random.between(1.5, 9),
    keyOnA: random.between(5, 14),
    cranks: combustion ? (failed ? [{ ...crank, seconds: 3.5 }, crank] : [crank]) : [],
    runningA: random.between(12, 55),
    // The engine is cold: no fan runs on.
    ...(seconds === 0 && { settling: shutdownStages(random, settleS, sleepA, false) }),
    ...(combustion && kind.systemV === 12 && cold && { glow: { amps: random.between(30, 80), seconds: 8 } }),
    ...(seconds > 600 && random.chance(0.2) && { lowered: lowered(random, kind, seconds) }),
    ...(combustion &&
      seconds > 600 &&
      kind.systemV === 12 &&
      kind.battery.chemistry !== 'flooded' &&
      random.chance(0.3) && { stops: stops(random, crank, seconds) }),
  };
}

/** Cold oil drags: a slower engine gives less back-voltage, draws more, and takes longer. */
function randomCrank(random: Random, { systemV, meanC }: Kind): CrankSpec {
  // 24 V turns large diesel engines, 6 V small petrol ones.
  const base = systemV === 24 ? DIESEL_CRANK : systemV === 6 ? PETROL_CRANK : random.pick([DIESEL_CRANK, PETROL_CRANK]);
  const locked = systemV === 24 ? 1.5 : systemV === 6 ? 0.7 : 1;
  const turning = systemV === 24 ? 1.15 : systemV === 6 ? 0.35 : 1;
  const cold = Math.max(0, (20 - meanC) / 45);
  return {
    ...base,
    lockedOhm: base.lockedOhm * locked,
    turningOhm: base.turningOhm * turning * (1 - 0.3 * cold) * random.between(0.9, 1.15),
    seconds: base.seconds * (1 + 1.6 * cold) * random.between(0.75, 1.4),
    rippleHz: base.rippleHz * (1 - 0.3 * cold),
  };
}

function lowered(random: Random, { systemV }: Kind, seconds: number): NonNullable<DriveSpec['lowered']> {
  const from = random.between(180, seconds / 2);
  return [{ from, to: random.between(from + 60, seconds), volts: (random.between(12.6, 13.2) * systemV) / 12 }];
}

/** A warm engine catches within a third of a second. */
function stops(random: Random, crank: CrankSpec, seconds: number): NonNullable<DriveSpec['stops']> {
  const warm = { ...crank, seconds: random.between(0.3, 0.45) };
  return [0.3, 0.55, 0.8].map((share) => ({ at: share * seconds, seconds: random.between(8, 45), crank: warm }));
}
