/** Answers that a sound report may give about the log itself: sensor, wiring, holes, chargers, where there is no doubt. */

import { perTwelveVolt } from '../battery/chemistry.ts';
import type { Stretch } from './scenario.ts';
import { statedAccuracy } from './sensor.ts';
import { type Expected, isInRange, isPlateauSeen, isReadable, isTurned, type Simulated, seesAll } from './simulated.ts';

const LIMIT_A = 0.05;
/** Half a day for a log that is no complaint; a whole hour of sleep in it. */
const LONG_ENOUGH_S = 12 * 3600;
const FULL_SLEEP_S = 3600;
/** Voltage lost at the starter's steady draw, for 12 V. */
const CABLE_V = 0.4;
const GROUND_V = 0.2;
/** Resistance × capacity of a 12 V battery, Ω·Ah, beyond which none is in use: a share of current elsewhere shows only so. */
const WORN_OHM_AH = 1.7;

export function expectedOfLog(simulated: Simulated): Expected {
  const { sensor } = simulated.scenario;
  return {
    ...length(simulated),
    ...coverage(simulated),
    ...supply(simulated),
    ...(!isTurned(simulated) && charger(simulated)),
    ...(sensor.hasCurrent &&
      !isTurned(simulated) && { ...direction(simulated), ...path(simulated), ...zero(simulated), ...drop(simulated) }),
    ...(sensor.hasCurrent && { ...range(simulated), ...steps(simulated) }),
  };
}

const seconds = (spans: readonly Stretch[]) => spans.reduce((sum, { from, to }) => sum + to - from, 0);

/** Holes with rows before and after them; one that reaches the log's end is no hole. */
function holesOf({ scenario }: Simulated): Stretch[] {
  return (scenario.logging.gaps ?? []).filter(({ from, to }) => from > 0 && to < scenario.seconds - 60);
}

/** What the logger has written from first to last row. */
function writtenS({ scenario }: Simulated): number {
  const cut = (scenario.logging.gaps ?? []).find(({ to }) => to >= scenario.seconds - 60);
  return cut ? cut.from : scenario.seconds;
}

function length(simulated: Simulated): Expected {
  const covered = writtenS(simulated) - seconds(holesOf(simulated));
  const longest = Math.max(0, ...simulated.truth.parked.map(({ asleepS }) => asleepS));
  if (covered < 0.98 * LONG_ENOUGH_S) return { 'log-length': ['fault', 'watch'] };
  const asleep = isReadable(simulated.scenario) && longest > 1.2 * FULL_SLEEP_S;
  return covered > 1.02 * LONG_ENOUGH_S && asleep ? { 'log-length': ['clear'] } : {};
}

function coverage(simulated: Simulated): Expected {
  const missingS = seconds(holesOf(simulated));
  const share = missingS / writtenS(simulated);
  if (share > 0.11) return { 'log-coverage': ['fault'] };
  if (share < 0.09 && missingS > 700) return { 'log-coverage': ['watch'] };
  return missingS === 0 ? { 'log-coverage': ['clear'] } : {};
}

function supply(simulated: Simulated): Expected {
  const { disconnected = [], drives } = simulated.scenario;
  const holes = holesOf(simulated);
  const resets = holes.filter((hole) => drives.some(({ at }) => hole.from > at && hole.from < at + 20));
  const off = disconnected.filter(({ from, to }) => to - from > 60 && from > 0 && to < writtenS(simulated));
  if (off.length > 2) return { 'supply-lost': ['fault'] };
  if (off.length > 0) return { 'supply-lost': ['fault', 'watch'] };
  if (resets.length > 0 || disconnected.length > 0) return {};
  if (holes.length === 0) return { 'supply-lost': ['clear'] };
  return seconds(holes) > 700 ? { 'supply-lost': ['undecided'] } : {};
}

function charger({ scenario }: Simulated): Expected {
  const chargers = scenario.chargers ?? [];
  if (chargers.some(({ from, to }) => to - from > 600)) return { 'charger-seen': ['fault', 'watch'] };
  const isSure = chargers.length === 0 && scenario.powertrain === 'combustion' && scenario.sensor.bypass === 0;
  return isSure ? { 'charger-seen': ['clear'] } : {};
}

function direction({ scenario, truth }: Simulated): Expected {
  if (truth.cranks.length + truth.drives.length === 0) return {};
  return { 'current-direction': scenario.sensor.reversed ? ['fault', 'watch'] : ['clear'] };
}

function path(simulated: Simulated): Expected {
  const { scenario, truth } = simulated;
  const { sensor, logging, battery, systemV } = scenario;
  const unseen = (scenario.extra ?? []).filter((load) => load.unseen);
  const large = unseen.filter((load) => load.amps > 10);
  const stepS = logging.crank?.stepS ?? logging.stepS;
  const dips = truth.cranks.filter(
    ({ started, voltsBefore, voltsMin }) => started && voltsBefore - voltsMin > 1.5 * perTwelveVolt(systemV),
  );
  if (sensor.missesStarter) return stepS <= 0.1 && dips.length >= 2 ? { 'current-path': ['fault', 'watch'] } : {};
  if (unseen.length > 0) return large.length > 5 ? { 'current-path': ['fault', 'watch', 'undecided'] } : {};
  if (sensor.bypass === 0) return { 'current-path': ['clear', 'undecided'] };
  // A sensor that misses a share of the current makes the battery look that much worse: far worse than any in use.
  const looksWorn = truth.cranks.every(
    ({ resistanceOhm }) =>
      (resistanceOhm * battery.capacityAh) / (1 - sensor.bypass) > WORN_OHM_AH * perTwelveVolt(systemV),
  );
  return truth.cranks.length > 0 && looksWorn ? { 'current-path': ['fault', 'watch', 'undecided'] } : {};
}

/** A zero that is off shows where it hides the whole draw, or while nothing can flow. As a draw of its own it does not show. */
function zero({ scenario, truth }: Simulated): Expected {
  const { sensor, disconnected = [], logging } = scenario;
  const statedA = statedAccuracy(sensor).absolute;
  const atC = (celsius: number) => sensor.offsetA + sensor.driftA * (celsius - 20);
  const surelyA = 1.3 * statedA + sensor.resolutionA / 2 + 0.002;
  const intoA = truth.parked
    .filter(({ asleepS }) => asleepS > 2400)
    .map(({ sleepDrawA, asleepC }) => atC(asleepC ?? 20) - (1 - sensor.bypass) * (sleepDrawA ?? 0));
  const off = disconnected.some(({ from, to }) => to - from > Math.max(60, 10 * logging.stepS));
  if (intoA.some((amps) => amps > surelyA))
    return { 'current-zero': off ? ['fault', 'watch', 'undecided'] : ['fault', 'watch'] };
  if (off) return Math.abs(sensor.offsetA) > surelyA ? { 'current-zero': ['fault', 'undecided'] } : {};
  return Math.abs(sensor.offsetA) < 0.7 * statedA ? { 'current-zero': ['clear', 'undecided'] } : {};
}

function range(simulated: Simulated): Expected {
  const { sensor, logging } = simulated.scenario;
  if (isInRange(simulated)) return { 'current-range': ['clear'] };
  if (sensor.missesStarter) return {};
  const peaks = simulated.truth.cranks.map(({ ampsPeak }) => (1 - sensor.bypass) * ampsPeak);
  // The inrush, which is what runs out of range, is gone after a tenth of a second.
  const fast = (logging.crank?.stepS ?? logging.stepS) <= 0.02;
  return fast && peaks.some((amps) => amps > 1.5 * sensor.rangeA) ? { 'current-range': ['fault', 'watch'] } : {};
}

function steps({ scenario, truth }: Simulated): Expected {
  const { resolutionA } = scenario.sensor;
  const { relative, absolute } = statedAccuracy(scenario.sensor);
  const U = 2 * Math.hypot((relative * LIMIT_A + absolute) / Math.sqrt(3), resolutionA / Math.sqrt(12));
  if (U > 1.1 * LIMIT_A) return { 'current-resolution': ['fault'] };
  if (U > 0.28 * LIMIT_A && U < 0.9 * LIMIT_A) return { 'current-resolution': ['watch'] };
  const nought = truth.parked.some(({ sleepDrawA }) => (sleepDrawA ?? 1) < 2 * resolutionA);
  return U < 0.22 * LIMIT_A ? { 'current-resolution': nought ? ['clear', 'watch'] : ['clear'] } : {};
}

/** The worst path at the starter's steady draw. */
function drop({ scenario, truth }: Simulated): Expected {
  const { channels, powertrain } = scenario;
  const ohms = channels.flatMap(({ measures, ohm }) => (measures === 'drop' && ohm ? [ohm] : []));
  const cranks = truth.cranks.filter((crank) => isPlateauSeen(crank, scenario));
  if (ohms.length === 0 || cranks.length === 0 || powertrain !== 'combustion' || !seesAll(scenario)) return {};
  if (!isInRange({ scenario, truth })) return {};
  const volts = cranks.map(({ ampsCranking }) => ((ampsCranking ?? 0) * Math.max(...ohms) * 12) / scenario.systemV);
  const [least, most] = [Math.min(...volts), Math.max(...volts)];
  if (least > 1.05 * CABLE_V + 0.02) return { 'circuit-drop': ['fault'] };
  if (least > 1.05 * GROUND_V + 0.02 && most < 0.95 * CABLE_V - 0.02) return { 'circuit-drop': ['watch'] };
  return most < 0.95 * GROUND_V - 0.02 ? { 'circuit-drop': ['clear'] } : {};
}
