/** Figures of a crank with their scatter: the voltage after the inrush, and the internal resistance. */
import { there } from '../../base/there.ts';
import {
  linearFit,
  mean,
  meanU,
  slopeBeside,
  standardDeviation,
  twoPointResistance,
} from '../../battery/statistics.ts';
import { combine, rectangular } from '../../battery/uncertainty.ts';
import { known, type RawCrank, type RawResistance, type Row } from './raw-crank.ts';

/**
 * Mean after the inrush. The ripple of the compressions is there, and no error: where current is known, only what it does not
 * explain scatters. What is left is where the plateau ends, anywhere between two rows at either side.
 */
export function plateauOf(settled: readonly Row[]): NonNullable<RawCrank['plateau']> {
  const volts = settled.map(([, v]) => v);
  const n = volts.length;
  const middle = mean(volts);
  const ends = [...volts.slice(0, 1), ...volts.slice(-1)].map((v) => rectangular((v - middle) / n));
  const whole = settled.filter(([, , i]) => known(i));
  const noise = whole.length === n ? scatterBeside(settled) : meanU(volts) * Math.sqrt(n);
  return { volts: middle, scatterU: combine(noise / Math.sqrt(n), ...ends), n };
}

/** Standard deviation of the voltages about a line over the currents. */
function scatterBeside(rows: readonly Row[]): number {
  const fit = linearFit(
    rows.map(([, , i]) => i),
    rows.map(([, v]) => v),
  );
  return fit && Number.isFinite(fit.residualSd) ? fit.residualSd : standardDeviation(rows.map(([, v]) => v));
}

/** What surface charge and polarisation may add to a resistance that is taken from rest to the plateau. Common practice, no source. */
const SLOW_SHARE = 0.25;
/** So many times the slope, the fall is more than that: a cell gives way at once under the starter, and what it loses then no longer changes. */
const GIVES_WAY = 2;

/**
 * Internal resistance: the slope of voltage on current while the starter's current changes by inrush and compressions, beside what
 * the charge drawn meanwhile takes off (polarisation). Where the rows are too few for it, the fall from rest to the plateau,
 * which holds slower processes too. The surer of both, unless the fall is far beyond what the slope explains.
 */
export function resistanceOf(
  body: readonly Row[],
  settled: readonly Row[],
  voltsBefore: number,
  ampsBefore: number,
): RawResistance | null {
  const rows = body.filter(([, v, i]) => known(v) && known(i));
  const amps = rows.map(([, , i]) => Math.abs(i));
  let drawnAs = 0;
  const drawn = rows.map(([t], k) => {
    const before = rows[k - 1];
    if (before) drawnAs += ((there(amps[k]) + there(amps[k - 1])) / 2) * (t - before[0]);
    return drawnAs;
  });
  const volts = rows.map(([, v]) => v);
  // Polarisation follows the charge, and fades from doing so: how much the bend matters is how far it may be off.
  const straight = slopeBeside(amps, volts, [drawn]);
  const bent = slopeBeside(amps, volts, [drawn, drawn.map((as) => as * as)]);
  const fall = fallToPlateau(settled, voltsBefore, ampsBefore);
  if (!straight || !bent || !(bent.value < 0)) return fall;
  const halfOhm = Math.abs(bent.value - straight.value);
  const slope = { ohm: -bent.value, scatterU: bent.u, halfOhm };
  const givesWay = fall && fall.ohm > GIVES_WAY * slope.ohm;
  return givesWay || (fall && doubt(fall) < doubt(slope)) ? fall : slope;
}

const doubt = ({ scatterU, halfOhm }: RawResistance) => combine(scatterU, rectangular(halfOhm));

/** Two points: just before, and the mean after the inrush. Voltage and current ripple together, so only what each leaves of the other scatters. */
function fallToPlateau(settled: readonly Row[], voltsBefore: number, ampsBefore: number): RawResistance | null {
  const both = settled.filter(([, , i]) => known(i));
  if (both.length < 3 || !known(ampsBefore)) return null;
  const volts = both.map(([, v]) => v);
  const amps = both.map(([, , i]) => Math.abs(i));
  const exact = { uAmperes: 0, uVolts: 0 };
  const rest = { amperes: Math.abs(ampsBefore), volts: voltsBefore, ...exact };
  const loaded = { amperes: mean(amps), volts: mean(volts), ...exact };
  const found = twoPointResistance(rest, loaded);
  if (!found) return null;
  const ohm = found.value;
  const left = both.map(([, v, i]) => v + ohm * Math.abs(i));
  const scatterU = meanU(left) / Math.abs(loaded.amperes - rest.amperes);
  return { ohm, scatterU, halfOhm: SLOW_SHARE * ohm };
}
