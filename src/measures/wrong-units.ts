/**
 * Readings that no battery of the manifest's kind can give over a whole log: a column in another unit, or another column.
 * A report of them would be a diagnosis of nothing, so there is none.
 */
import type { Analysis } from '../analysis/model.ts';
import { type Problem, UserError } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { ENGINE_V } from '../battery/fed-voltage.ts';
import type { ColumnRef, Session } from '../manifest/session.ts';
import { exchangedFault } from './exchanged-columns.ts';
import { otherSystem } from './other-system.ts';

/** Highest and lowest of a 12 V battery's terminal that can be told from a unit that is off by 1000. Common practice, no source. */
const NEVER_ABOVE_V = 2.4;
/** More than this many capacities cannot leave a battery that nothing charges. */
const CAPACITIES = 1.2;
/** Taken where the manifest states none: the largest starter batteries. */
const LARGEST_AH = 230;
/** A sensor's zero is not off by so much, A. Common practice, no source. */
const LEAST_A = 5;
/** A 12 V battery under a draw, not nearly empty: above the rested voltage of half charge. */
const STILL_CHARGED_V = 12.2;
/** At a median draw below this, and a peak between these two, a log "in mA" was written in A, mA. Common practice, no source. */
const LEAST_DRAW_MA = 0.5;
const PEAK_MA = [5, 2000] as const;
const ENGINE_S = 300;
const HOTTEST_MEDIAN_C = 60;

/** Throws UserError that names each column whose readings cannot be. */
export function refuseWrongUnits(analysis: Analysis, session: Session): void {
  const problems = [exchangedFault, voltageFault, systemFault, drainFault, tinyFault, heatFault].flatMap(
    (fault) => fault(analysis, session) ?? [],
  );
  if (problems.length > 0) throw new UserError(problems);
}

function problem(ref: ColumnRef, key: string, message: string): Problem {
  return {
    file: 'session.yaml',
    line: ref.at?.line,
    column: ref.at?.column,
    path: `log.columns.${key}.unit`,
    message: `"${plainText(String(ref.name))}": ${message}`,
  };
}

function voltageFault({ tiles }: Analysis, { vehicle, log }: Session): Problem | undefined {
  const { voltage } = log.columns;
  const highest = highestOf(tiles);
  if (highest > NEVER_ABOVE_V * perTwelveVolt(vehicle.systemV) || highest === Number.NEGATIVE_INFINITY)
    return undefined;
  const wouldBe = (unit: string, times: number) => `Read as ${unit}, the highest would be ${short(highest * times)} V.`;
  const hint = voltage.unit === 'mV' ? wouldBe('V', 1000) : 'Is it the battery’s column?';
  const message = `the voltage is never above ${short(highest)} V, which no ${vehicle.systemV} V battery has. ${hint}`;
  return problem(voltage, 'voltage', message);
}

/** V; −Infinity without any. */
function highestOf({ n, vMax }: Analysis['tiles']): number {
  let highest = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < n; k++) if (vMax[k] > highest) highest = vMax[k];
  return highest;
}

/** Another system than the declared one, so surely that no report is made of it. */
function systemFault(analysis: Analysis, session: Session): Problem | undefined {
  const other = otherSystem(analysis, session);
  if (!other?.isSure) return undefined;
  const { suitsV, lowestV, highestV } = other;
  const message = `The manifest says ${session.vehicle.systemV} V, and the log's voltage lies between ${short(lowestV)} V and ${short(highestV)} V from beginning to end: that of a ${suitsV} V system. Correct it, or the unit and column of the voltage.`;
  return { file: 'session.yaml', path: 'vehicle.system_voltage', message };
}

/** A draw that would have emptied the battery, beside a voltage which says that it is not empty. */
function drainFault({ tiles }: Analysis, { vehicle, battery, log }: Session): Problem | undefined {
  const { current } = log.columns;
  if (current === undefined) return undefined;
  const mostAh = CAPACITIES * (battery.capacityAh ?? LARGEST_AH);
  let [outAh, seconds] = [0, 0];
  for (let k = 0; k < tiles.n; k++) {
    const volts = tiles.v[k] / perTwelveVolt(vehicle.systemV);
    if (!(tiles.i[k] < 0) || volts > ENGINE_V) {
      [outAh, seconds] = [0, 0];
      continue;
    }
    outAh -= tiles.netAs[k] / 3600;
    seconds += tiles.iCov[k];
    const meanA = (outAh * 3600) / seconds;
    if (outAh < mostAh || meanA < LEAST_A || volts < STILL_CHARGED_V) continue;
    const hint = current.unit === 'A' ? ` Read as mA, it would be ${short(meanA)} mA.` : '';
    const held =
      battery.capacityAh === undefined
        ? 'any starter battery holds'
        : `the battery holds (${short(battery.capacityAh)} Ah)`;
    const message = `the vehicle would have drawn ${short(meanA)} A for ${short(seconds / 3600)} h, more than ${held}, and its voltage is still ${short(tiles.v[k])} V.${hint}`;
    return problem(current, 'current', message);
  }
  return undefined;
}

/** A log in A that is read as mA: an engine ran, and no current comes near to what it takes to start or charge. */
function tinyFault({ tiles }: Analysis, { vehicle, log }: Session): Problem | undefined {
  const { current } = log.columns;
  if (current?.unit !== 'mA') return undefined;
  let [peakMa, engineS, smallS, knownS] = [0, 0, 0, 0];
  for (let k = 0; k < tiles.n; k++) {
    const seconds = tiles.t1[k] - tiles.t0[k];
    if (tiles.v[k] / perTwelveVolt(vehicle.systemV) > ENGINE_V) engineS += seconds;
    if (Number.isNaN(tiles.i[k])) continue;
    knownS += seconds;
    peakMa = Math.max(peakMa, -1000 * tiles.iMin[k], 1000 * tiles.iMax[k]);
    // Exactly nothing is a sensor that is not there.
    if (tiles.i[k] !== 0 && Math.abs(tiles.i[k]) * 1000 < LEAST_DRAW_MA) smallS += seconds;
  }
  const [low, high] = PEAK_MA;
  if (engineS < ENGINE_S || smallS < 0.5 * knownS || peakMa < low || peakMa > high) return undefined;
  const message = `an engine ran, and the largest current of the log is ${short(peakMa)} mA. Read as A, it would be ${short(peakMa)} A.`;
  return problem(current, 'current', message);
}

function heatFault({ tiles }: Analysis, { log }: Session): Problem | undefined {
  const { temperature } = log.columns;
  if (temperature?.unit !== '°C') return undefined;
  let [hotS, knownS] = [0, 0];
  let lowest = Number.POSITIVE_INFINITY;
  for (let k = 0; k < tiles.n; k++) {
    const celsius = tiles.temp[k];
    if (Number.isNaN(celsius)) continue;
    const seconds = tiles.t1[k] - tiles.t0[k];
    knownS += seconds;
    if (celsius > HOTTEST_MEDIAN_C) hotS += seconds;
    if (celsius < lowest) lowest = celsius;
  }
  if (knownS === 0 || hotS < 0.5 * knownS) return undefined;
  const asF = short(((lowest - 32) * 5) / 9);
  const message = `the battery would have been above ${HOTTEST_MEDIAN_C} °C for most of the log. Read as °F, the lowest would be ${asF} °C instead of ${short(lowest)} °C.`;
  return problem(temperature, 'temperature', message);
}

function short(value: number): string {
  return String(Number(value.toPrecision(3)));
}
