/**
 * A starter's solenoid that pulls in and lets go again, many times a second, before a start: what the driver hears as clicks. It draws tens of
 * amperes and the starter none. Where the voltage stays up meanwhile, the battery is not why: the wire or switch that holds it in gives way, or
 * the solenoid itself. One stretch after key-on may be glow plugs that are fed in pulses; the driver's attempts are several, with pauses between.
 */
import type { Analysis, Span } from '../analysis/model.ts';
import { tileAt } from '../analysis/tiles/tiles.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { measure } from './measure.ts';
import { mostBy } from './spans.ts';

/** Swings so large, and so little at the most, are a solenoid's and no starter's, A. Common practice, no source. */
const LEAST_SWING_A = 12;
const MOST_A = 80;
/** To and fro so many times within a second; somebody at the switches does not reach that. Common practice, no source. */
const LEAST_TURNS = 6;
/** An attempt lasts no longer; between two of one key-on there is a pause, s. Common practice, no source. */
const LONGEST_S = 5;
const PAUSE_S = 1;
/** The attempts before one start lie within this, s; fewer may be something else. Common practice, no source. */
const BEFORE_S = 120;
const LEAST_BURSTS = 2;
/** A battery that is nearly empty lets the solenoid go too: the voltage stays above this, V for 12 V. Common practice, no source. */
const HOLDS_V = 11.5;

export interface Chatter {
  /** Starts, or attempts without one, before which it was seen. */
  readonly times: number;
  readonly lastT: number;
  /** Of the last: how many bursts, the largest draw, A, and the lowest voltage, V. */
  readonly bursts: number;
  readonly mostA: number;
  readonly leastV: number;
}

interface Burst extends Span {
  readonly mostA: number;
  readonly leastV: number;
}

/** Null where none was seen, and in logs too slow to show one. */
export const chatter = measure((analysis, { vehicle }): Chatter | null => {
  if (vehicle.powertrain !== 'combustion') return null;
  const leastV = HOLDS_V * perTwelveVolt(vehicle.systemV);
  const all = bursts(analysis).filter((burst) => burst.end - burst.start <= LONGEST_S);
  const groups: Burst[][] = [];
  for (const burst of all) {
    const group = groups.at(-1);
    const last = group?.at(-1);
    if (group && last && burst.start - last.end >= PAUSE_S && burst.start - last.end < BEFORE_S) group.push(burst);
    else groups.push([burst]);
  }
  const told = groups.filter((group) => group.length >= LEAST_BURSTS && group.every((burst) => burst.leastV >= leastV));
  const last = told.at(-1);
  const most = mostBy(last ?? [], ({ mostA }) => mostA);
  if (!last || !most) return null;
  return {
    times: told.length,
    lastT: last[0]?.start ?? most.start,
    bursts: last.length,
    mostA: most.mostA,
    leastV: Math.min(...last.map((burst) => burst.leastV)),
  };
});

/** While nothing charges and no starter turns. */
function bursts({ tiles, periods }: Analysis): Burst[] {
  const found: Burst[] = [];
  for (const { kind, start, end } of periods) {
    if (kind === 'driving' || kind === 'cranking' || kind === 'on-charger' || kind === 'no-data') continue;
    for (let k = tileAt(tiles, start); k < tiles.n && (tiles.t1[k] ?? 0) <= end; k++) {
      const low = tiles.iMin[k] ?? Number.NaN;
      const high = tiles.iMax[k] ?? Number.NaN;
      const swingA = high - low;
      if (!(swingA >= LEAST_SWING_A && low > -MOST_A && high <= 0)) continue;
      const turns = ((tiles.iRough[k] ?? 0) * ((tiles.rows[k] ?? 0) - 1)) / swingA;
      if (!(turns >= LEAST_TURNS)) continue;
      const one = { start: tiles.t0[k] ?? 0, end: tiles.t1[k] ?? 0, mostA: -low, leastV: tiles.vMin[k] ?? Number.NaN };
      const last = found.at(-1);
      if (last && one.start - last.end < 1e-6) {
        const leastV = Math.min(last.leastV, one.leastV);
        found[found.length - 1] = { ...last, end: one.end, mostA: Math.max(last.mostA, one.mostA), leastV };
      } else found.push(one);
    }
  }
  return found;
}
