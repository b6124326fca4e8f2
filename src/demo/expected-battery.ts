/**
 * Answers that a sound report may give about battery, sensor and charger, where a scenario leaves no doubt. `undecided` is
 * among them where it depends on what happens to be in the log.
 */
import type { Status } from '../checks/check.ts';
import type { Scenario } from './scenario.ts';
import type { Truth } from './truth.ts';

/** Resistance × capacity of a 12 V battery, Ω·Ah, beyond which none is sound: a share of current elsewhere shows only so. */
const WORN_OHM_AH = 0.6;

export function expectedOfBattery(
  scenario: Scenario,
  truth: Omit<Truth, 'expected'>,
): Readonly<Record<string, readonly Status[]>> {
  const { sensor, climate, battery } = scenario;
  const expected: Record<string, readonly Status[]> = {};
  if (Math.min(truth.charge.start, truth.charge.end) > 0.3) expected['deep-discharge'] = ['clear'];
  if (sensor.hasTemperature) {
    if (climate.meanC + climate.swingC + climate.engineC < 48) expected['battery-heat'] = ['clear'];
    const mild = climate.meanC - climate.swingC > -4;
    if (battery.chemistry === 'lfp') expected['freeze-risk'] = ['undecided'];
    else if (mild && truth.charge.end > 0.5) expected['freeze-risk'] = ['clear'];
  }
  if ((scenario.chargers ?? []).length === 0 && scenario.powertrain === 'combustion')
    expected['charger-seen'] = ['clear'];
  if (!sensor.hasCurrent) return expected;

  // The battery of a scenario that sets no resistance is as good as its size makes it.
  if (battery.resistanceOhm === undefined && truth.cranks.length > 0)
    expected['battery-resistance'] = ['clear', 'undecided'];
  if (sensor.bypass === 0) expected['current-path'] = ['clear', 'undecided'];
  else if (truth.cranks.length > 0 && truth.cranks.every((crank) => looksWorn(crank.resistanceOhm, scenario)))
    expected['current-path'] = ['fault', 'watch', 'undecided'];
  if (Math.abs(sensor.offsetA) < 0.002) expected['current-zero'] = ['clear', 'undecided'];
  if (truth.cranks.every((crank) => crank.ampsPeak < 0.9 * sensor.rangeA)) expected['current-range'] = ['clear'];
  if (sensor.resolutionA <= 0.001) expected['current-resolution'] = ['clear'];
  return expected;
}

/** A sensor that misses a share of the current makes the battery look that much worse. */
function looksWorn(ohm: number, { sensor, battery, systemV }: Scenario): boolean {
  return (ohm * battery.capacityAh) / (1 - sensor.bypass) > (WORN_OHM_AH * systemV) / 12;
}
