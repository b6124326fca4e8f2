/** Voltage and current under each other's name: a "voltage" that no battery has, beside a "current" that is a battery's voltage. */
import type { Analysis } from '../analysis/model.ts';
import type { Problem } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import type { Session } from '../manifest/session.ts';

/** For each 12 V: no battery that feeds a vehicle is below the first for most of a log; all rest and charge between the others. */
const NO_BATTERY_V = 5;
const BATTERY_V = [9, 16] as const;
const MOST = 0.8;

export function exchangedFault({ tiles }: Analysis, { vehicle, log }: Session): Problem | undefined {
  const { voltage, current } = log.columns;
  if (current === undefined) return undefined;
  const scale = perTwelveVolt(vehicle.systemV);
  let [bothS, exchangedS] = [0, 0];
  for (let k = 0; k < tiles.n; k++) {
    const [volts, amps] = [tiles.v[k] / scale, Math.abs(tiles.i[k]) / scale];
    if (Number.isNaN(volts) || Number.isNaN(amps)) continue;
    const seconds = tiles.t1[k] - tiles.t0[k];
    bothS += seconds;
    if (volts < NO_BATTERY_V && amps > BATTERY_V[0] && amps < BATTERY_V[1]) exchangedS += seconds;
  }
  if (bothS === 0 || exchangedS < MOST * bothS) return undefined;
  const [v, a] = [plainText(String(voltage.name)), plainText(String(current.name))];
  return {
    file: 'session.yaml',
    line: voltage.at?.line,
    column: voltage.at?.column,
    path: 'log.columns.voltage',
    message: `Voltage and current seem to be exchanged: "${a}", given as the current, reads like the voltage of a ${vehicle.systemV} V battery, and "${v}", given as the voltage, like a current.`,
  };
}
