/** Every check, in the order of the report. A new one is a line here, and stands in no other list. */
import { check as batteryHeat } from './battery-heat.ts';
import { check as batteryResistance } from './battery-resistance.ts';
import { check as chargeBalance } from './charge-balance.ts';
import { check as chargerSeen } from './charger-seen.ts';
import { check as chargingHigh } from './charging-high.ts';
import { check as chargingLow } from './charging-low.ts';
import type { Check } from './check.ts';
import { check as circuitDrop } from './circuit-drop.ts';
import { check as circuitLink } from './circuit-link.ts';
import { check as crankVoltage } from './crank-voltage.ts';
import { check as currentDirection } from './current-direction.ts';
import { check as currentPath } from './current-path.ts';
import { check as currentRange } from './current-range.ts';
import { check as currentResolution } from './current-resolution.ts';
import { check as currentZero } from './current-zero.ts';
import { check as deepDischarge } from './deep-discharge.ts';
import { check as freezeRisk } from './freeze-risk.ts';
import { check as heldAwake } from './held-awake.ts';
import { check as logCoverage } from './log-coverage.ts';
import { check as logLength } from './log-length.ts';
import { check as parkedDraw } from './parked-draw.ts';
import { check as restingCharge } from './resting-charge.ts';
import { check as sleepTime } from './sleep-time.ts';
import { check as standTime } from './stand-time.ts';
import { check as supplyLost } from './supply-lost.ts';
import { check as wakeUps } from './wake-ups.ts';

export const CHECKS: readonly Check[] = [
  parkedDraw,
  sleepTime,
  wakeUps,
  heldAwake,
  circuitLink,
  standTime,
  restingCharge,
  deepDischarge,
  freezeRisk,
  crankVoltage,
  batteryResistance,
  chargingLow,
  chargingHigh,
  chargeBalance,
  batteryHeat,
  circuitDrop,
  logCoverage,
  logLength,
  currentDirection,
  currentPath,
  currentZero,
  currentRange,
  currentResolution,
  chargerSeen,
  supplyLost,
];

/** Undefined for a check of another version, as stored reports may hold. */
export const checkOf = (id: string): Check | undefined => CHECKS.find((check) => check.id === id);
