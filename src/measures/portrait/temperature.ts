/** Voltage and current while driving against the battery's temperature: what the regulator makes of warmth. */
import { tileAt } from '../../analysis/tiles/tiles.ts';
import { measure } from '../measure.ts';
import { AMPERES, createDistribution, type Distribution, type Spread, VOLTS } from './distribution.ts';

/** Width of a part, °C: regulators change their voltage by some 10 to 30 mV for each. */
const WIDE_C = 5;
/** The first minutes recharge what the start took, whatever the temperature, s. */
const BEGIN_S = 120;
/** A logger that writes it more rarely than the rest: a battery's temperature does not change in so short a time, s. Common practice, no source. */
const HOLDS_S = 900;
/** Less time in a part says little, s. */
const LEAST_S = 120;

export interface TemperaturePart {
  readonly fromC: number;
  readonly toC: number;
  /** Driving time in it, s. */
  readonly seconds: number;
  readonly drives: number;
  readonly volts: Spread;
  /** Null without current. */
  readonly amps: Spread | null;
}

/** In rising order of temperature; none without a column of temperature. */
export const chargingByTemperature = measure(({ tiles, drives }): readonly TemperaturePart[] => {
  const parts = new Map<number, { volts: Distribution; amps: Distribution; drives: Set<number> }>();
  drives.forEach(({ start, end }, drive) => {
    let [degrees, seenT] = [Number.NaN, Number.NEGATIVE_INFINITY];
    const from = start + BEGIN_S;
    for (let k = tileAt(tiles, from - HOLDS_S); k < tiles.n && (tiles.t0[k] ?? 0) < end; k++) {
      const own = tiles.temp[k] ?? Number.NaN;
      if (!Number.isNaN(own)) [degrees, seenT] = [own, tiles.t1[k] ?? 0];
      if ((tiles.t1[k] ?? 0) <= from || !((tiles.t0[k] ?? 0) - seenT <= HOLDS_S)) continue;
      const at = Math.floor(degrees / WIDE_C);
      const part = parts.get(at) ?? {
        volts: createDistribution(VOLTS),
        amps: createDistribution(AMPERES),
        drives: new Set<number>(),
      };
      const seconds = (tiles.t1[k] ?? 0) - (tiles.t0[k] ?? 0);
      part.volts.add(tiles.v[k] ?? Number.NaN, seconds);
      part.amps.add(tiles.i[k] ?? Number.NaN, seconds);
      part.drives.add(drive);
      parts.set(at, part);
    }
  });
  return [...parts]
    .toSorted(([a], [b]) => a - b)
    .flatMap(([at, { volts, amps, drives: seen }]) => {
      const spread = volts.spread();
      if (!spread || volts.seconds < LEAST_S) return [];
      return [
        {
          fromC: at * WIDE_C,
          toC: (at + 1) * WIDE_C,
          seconds: volts.seconds,
          drives: seen.size,
          volts: spread,
          amps: amps.spread(),
        },
      ];
    });
});
