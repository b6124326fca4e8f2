/** Answers that a sound report may give about charging, where a scenario leaves no doubt. */
import { chargingWindowV } from '../battery/charging.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { drivesShow, type Expected, isInRange, type Simulated, seesAll } from './simulated.ts';

/** A drive shorter than this says little about the regulator, s: five minutes, and one that there be no doubt. */
const SHORTEST_S = 360;
const DAY_S = 86_400;
/** Of the capacity. */
const LOSS_SHARE = 0.05;
/** Draws of a vehicle that runs without any charging, A. */
const DRAINED_A = 1.5;

export function expectedOfCharging(simulated: Simulated): Expected {
  // A hole may hide a drive, or part one.
  if ((simulated.scenario.logging.gaps ?? []).length > 0) return {};
  return { ...voltages(simulated), ...balance(simulated) };
}

function voltages({ scenario, truth }: Simulated): Expected {
  const scale = perTwelveVolt(scenario.systemV);
  const drives = truth.drives
    .filter(({ start, end }) => end - start > SHORTEST_S)
    .map((drive) => {
      const { minV, usualV, mostV } = chargingWindowV({
        chemistry: scenario.battery.chemistry,
        systemV: scenario.systemV,
        temperatureC: scenario.sensor.hasTemperature ? drive.meanC : null,
      });
      const seconds = drive.end - drive.start;
      return {
        meanA: ((drive.chargeInAh - drive.chargeOutAh) * 3600) / seconds,
        reachesV: (drive.voltsHigh - minV) / scale,
        exceedsV: (drive.voltsMedian - (mostV ?? Number.POSITIVE_INFINITY)) / scale,
        aboveUsualV: (drive.voltsMedian - (usualV ?? Number.POSITIVE_INFINITY)) / scale,
        peaksV: (drive.voltsHigh - (mostV ?? Number.POSITIVE_INFINITY)) / scale,
      };
    });
  if (drives.length === 0) return {};
  const low = drives.filter(({ reachesV, meanA }) => reachesV < -0.05 && meanA < -DRAINED_A);
  const expected: Record<string, Expected[string]> = {};
  // Without a starter, a drive that charges nothing leaves no sign in a log.
  if (seesAll(scenario) && isInRange({ scenario, truth }) && drivesShow({ scenario, truth })) {
    if (low.length > 0) expected['charging-low'] = ['fault', 'watch'];
  }
  if (drives.every(({ reachesV }) => reachesV > 0.05)) expected['charging-low'] = ['clear'];
  if (drives.some(({ exceedsV }) => exceedsV > 0.1)) expected['charging-high'] = ['fault'];
  else if (drives.some(({ aboveUsualV }) => aboveUsualV > 0.1)) expected['charging-high'] = ['watch', 'fault'];
  else if (drives.every(({ aboveUsualV, peaksV }) => aboveUsualV < -0.05 && peaksV < 0.25))
    expected['charging-high'] = ['clear'];
  return expected;
}

/** From the first key-off in the log to the last one. */
function balance({ scenario, truth }: Simulated): Expected {
  const { sensor, battery, chargers = [], disconnected = [] } = scenario;
  if (!seesAll(scenario) || !isInRange({ scenario, truth }) || chargers.length + disconnected.length > 0) return {};
  const keyOffs = truth.parked.filter(({ keyOffInLog }) => keyOffInLog).map(({ start }) => start);
  const [from, to] = [keyOffs[0], keyOffs.at(-1) ?? 0];
  if (!(to - from > 1.02 * DAY_S)) return {};
  const inside = truth.periods.filter(({ start, end }) => start >= from - 1 && end <= to + 1);
  const inAh = inside.reduce((sum, { chargeInAh }) => sum + chargeInAh, 0);
  const outAh = inside.reduce((sum, { chargeOutAh }) => sum + chargeOutAh, 0);
  const offsetA = Math.abs(sensor.offsetA) + 20 * Math.abs(sensor.driftA) + 0.003;
  const errorAh = 0.02 * Math.max(inAh, outAh) + (offsetA * (to - from)) / 3600 + 0.2;
  const overAh = outAh - inAh - LOSS_SHARE * battery.capacityAh;
  if (overAh > errorAh) return { 'charge-balance': ['fault', 'watch'] };
  if (overAh < -errorAh) return { 'charge-balance': ['clear'] };
  return {};
}
