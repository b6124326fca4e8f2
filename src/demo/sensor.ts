/** From what is there to what a logger writes: gain, offset, noise, steps and the end of the range. */

import type { Accuracy } from '../battery/uncertainty.ts';
import { normalPairAt } from './random.ts';
import type { Sensor } from './scenario.ts';

export interface Reading {
  v: number;
  i: number;
  temp: number;
}

/** Turns true values into the readings of sample `n`; the result is reused. */
export function makeSensor(sensor: Sensor, stream: number): (n: number, v: number, i: number, temp: number) => Reading {
  const noise = new Float64Array(2);
  const { gainV = 1, offsetV = 0, offsetC = 0 } = sensor;
  const reading: Reading = { v: 0, i: 0, temp: 0 };
  return (n, v, i, temp) => {
    normalPairAt(stream, n, noise);
    reading.v = toStep(v * gainV + offsetV + sensor.noiseV * noise[0], sensor.resolutionV);
    const seen = i * (1 - sensor.bypass) * sensor.gain + sensor.offsetA + sensor.driftA * (temp - 20);
    const clipped = Math.min(sensor.rangeA, Math.max(-sensor.rangeA, seen + sensor.noiseA * noise[1]));
    const signed = sensor.reversed ? -clipped : clipped;
    reading.i = sensor.hasCurrent ? toStep(signed, sensor.resolutionA) : Number.NaN;
    reading.temp = sensor.hasTemperature ? toStep(temp + offsetC, sensor.resolutionC) : Number.NaN;
    return reading;
  };
}

function toStep(value: number, step: number): number {
  return step > 0 ? Math.round(value / step) * step : value;
}

/** What its maker states: one with coarse steps is a clamp whose zero drifts. */
export function statedAccuracy({ resolutionA }: Sensor): Accuracy {
  return resolutionA < 0.01 ? { relative: 0.005, absolute: 0.002 } : { relative: 0.02, absolute: 0.03 };
}
