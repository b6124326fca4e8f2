/**
 * Finds cranks at full rate while the samples stream by. A crank is a short, deep draw with a dip of voltage, from an
 * engine that is not running; what it did next tells a start from a failed attempt. Without current the dip alone
 * must be deeper. The figures below are common practice, no source, for a 12 V system; voltages scale with the system.
 */
import type { SampleBlock } from '../../log/block.ts';
import type { Session } from '../../manifest/session.ts';
import { isSupplyLost } from '../states/supply.ts';
import { type HeavyLoad, measureCrank, measureLoad, type RawCrank, type Row } from './crank-measure.ts';

/** Draw that only a starter motor and other heavy loads (told apart later) reach, A. */
const DEEP_A = 50;
/** Least draw while the starter turns; below it the attempt is over, A. */
const IDLE_A = 40;
/** Dip that begins to be of interest: with current known, and without, V. */
const DIP_V = 0.12;
const DIP_ALONE_V = 0.22;
/** A dip to here that no current explains: a starter whose current goes round the sensor, V. */
const LOW_V = 12.5;
/** From a level at which it was charged: also what ends the charging leaves less than that, V. */
const LOW_FED_V = 12;
const UNSEEN_DIP_V = 0.4;
/** Of it, where a row wants a closer look: what it falls from follows within seconds. */
const NEARLY = 0.75;
/** A worn battery gives way by this much to a draw that is seen, Ω for 12 V. */
const WORN_OHM = 0.02;
/** What was drawn so long before is no part of what makes the voltage fall now, s. */
const MOMENT_S = 1.5;
/** Of the highest level, fading with this time constant (s): less is no starter's any more. */
const OF_MOST = 0.35;
const FADES_S = 3;
/** The starter is off once its draw has been gone this long, s: longer than a compression stroke takes at crank speed. */
const QUIET_S = 0.25;
/** The inrush, up to four times what follows, is over and forgotten after this, s. */
const INRUSH_OVER_S = 0.6;
/** Rows kept before (s) and after (s) the event. */
const BEFORE_S = 4;
const AFTER_S = 4;
/** Longer than this is some other load (a heater, an inverter), s. */
const LONGEST_S = 60;
/** A level kept this long (s) at or above this voltage is none of a starter's. */
const SETTLED_S = 1;
const NO_STARTER_V = 11.6;
/** A battery that is not being charged keeps less; one of lfp rests as high as others are charged, V. */
const CHARGED_V = 13.2;
const CHARGED_LFP_V = 13.6;
/** Of the range: a reading this near to its end may have gone beyond it. */
const NEAR_END = 0.98;
const RING = 1 << 12;
/** Cranks whose waveform is kept. */
const WAVES = 400;

export interface CrankFinder {
  push(block: SampleBlock): void;
  /** Starts, and what else drew much, in order; whether an engine ran meanwhile is not known yet. */
  finish(): { cranks: RawCrank[]; loads: HeavyLoad[] };
}

export function createCrankFinder({
  vehicle,
  battery,
  log,
}: Pick<Session, 'vehicle' | 'battery' | 'log'>): CrankFinder {
  const { systemV, powertrain } = vehicle;
  const scale = systemV / 12;
  const found: RawCrank[] = [];
  const loads: HeavyLoad[] = [];
  const lowV = LOW_V * scale;
  if (powertrain === 'electric') return { push: () => {}, finish: () => ({ cranks: found, loads }) };

  const chargedV = (battery.chemistry === 'lfp' ? CHARGED_LFP_V : CHARGED_V) * scale;
  // A sensor whose range ends below a starter's draw tells nothing of it: then the dip stands alone.
  const mostA = NEAR_END * (log.columns.current?.rangeA ?? Number.POSITIVE_INFINITY);
  const deepA = Math.min(DEEP_A, mostA);
  const known = (i: number) => (mostA < DEEP_A && Math.abs(i) >= mostA ? Number.NaN : i);
  const strict = powertrain === 'hybrid';
  const ring = Array.from({ length: 4 }, () => new Float64Array(RING));
  let head = 0;
  let reference = Number.NaN;
  let lastT = Number.NaN;
  /** When voltage was last known, and its level in the last half second. */
  let knownT = Number.NaN;
  let recent = Number.NaN;
  let hasCurrent = false;

  let state: 'idle' | 'deep' | 'after' | 'blocked' = 'idle';
  let rows: Row[] = [];
  let beganAt = 0;
  /** What holds, A, or V below `before` where current is not known. */
  let level = 0;
  /** The highest that it was, fading within seconds, A: what stays on after the starter is far below. */
  let most = 0;
  /** Sign that the log gives a draw: a charge that follows is none. */
  let sign = 0;
  let endedAt = 0;
  let rowsAfter = 0;
  let before = 0;
  /** When the logger last lost its supply, and whether it did within the event, or right before or after it. */
  let lostT = Number.NaN;
  let isLost = false;
  /** The event was told by voltage alone, though current is known. */
  let byVoltage = false;

  const isDeep = (v: number, i: number) =>
    hasCurrent && !Number.isNaN(i)
      ? (Math.abs(i) >= DEEP_A && !(v > reference - DIP_V * scale)) || isUnseen(v, i)
      : v <= reference - DIP_ALONE_V * scale;

  const isUnseen = (v: number, i: number) => Math.abs(i) < DEEP_A && isUnexplained(v, i, reference);

  /** A fall from `level` that what is drawn more than a moment ago does not explain. */
  const isUnexplained = (v: number, i: number, from: number) =>
    v < (from > chargedV ? LOW_FED_V * scale : lowV) &&
    v <= from - UNSEEN_DIP_V * scale &&
    v <= from - (UNSEEN_DIP_V + WORN_OHM * Math.max(0, Math.abs(i) - leastBefore())) * scale;

  /** Least that was drawn in the moment before, A. */
  function leastBefore(): number {
    let leastA = Number.POSITIVE_INFINITY;
    const now = ring[0][(head - 1) & (RING - 1)];
    for (let k = head - 1; k >= Math.max(0, head - RING) && ring[0][k & (RING - 1)] >= now - MOMENT_S; k--)
      leastA = Math.min(leastA, Math.abs(ring[2][k & (RING - 1)]) || 0);
    return Number.isFinite(leastA) ? leastA : 0;
  }

  const stillDeep = (v: number, i: number) =>
    hasCurrent && !Number.isNaN(i) && !byVoltage
      ? i * sign >= Math.max(IDLE_A, 0.45 * level, OF_MOST * most)
      : before - v >= Math.max(DIP_ALONE_V * scale, 0.45 * level);

  /** Without current a fall to a lower level (the engine stops) looks like a dip until a real one begins from there. */
  const isFromNewLevel = (t: number, v: number) =>
    t - beganAt > SETTLED_S && recent > NO_STARTER_V * scale && v <= recent - 2 * DIP_ALONE_V * scale;

  function begin(t: number, v: number, i: number, unseen = isUnseen(v, i)): void {
    rows = [];
    const oldest = Math.max(0, head - RING);
    for (let k = oldest; k < head; k++) {
      const r = k & (RING - 1);
      if (ring[0][r] >= t - BEFORE_S || k >= head - 2) rows.push([ring[0][r], ring[1][r], ring[2][r], ring[3][r]]);
    }
    state = 'deep';
    beganAt = t;
    endedAt = t;
    before = reference;
    byVoltage = unseen;
    level = Number.isNaN(i) || byVoltage ? before - v : Math.abs(i);
    sign = Math.sign(i) || 0;
    most = 0;
    isLost = t - lostT < SETTLED_S;
  }

  function evaluate(): void {
    if (isLost) return;
    const crank = measureCrank(rows, beganAt, endedAt, {
      scale,
      strict,
      chargedV,
      byVoltage,
      wave: found.length < WAVES,
    });
    if (crank) found.push(crank);
    else noteLoad();
  }

  function noteLoad(): void {
    const load = measureLoad(rows, beganAt, endedAt);
    if (load && load.meanA >= DEEP_A) loads.push(load);
  }

  /** Takes the rows from `from` on that draw little, as nearly all do; gives the first that wants a closer look. */
  function passIdle(block: SampleBlock, from: number): number {
    const { n, t, v, i } = block;
    let k = from;
    const dipV = reference > 0 ? Math.min(lowV, reference - NEARLY * UNSEEN_DIP_V * scale) : lowV;
    while (k < n && Math.abs(i[k]) < deepA && v[k] > dipV) k++;
    if (k === from) return k;
    // In variables of their own, which is much quicker than in those that outlive the call.
    let [slow, quick, since] = [reference, recent, knownT];
    for (let row = from; row < k; row++) {
      slow = follow(slow, v[row], t[row] - since, 1.5);
      quick = follow(quick, v[row], t[row] - since, 0.4);
      since = t[row];
    }
    [reference, recent, knownT, lastT] = [slow, quick, since, since];
    hasCurrent = true;
    keep(block, from, k);
    return k;
  }

  /** Rows `from` up to `to` into the ring, as far as it has room for them. */
  function keep({ t, v, i, temp }: SampleBlock, from: number, to: number): void {
    for (let row = Math.max(from, to - RING); row < to; ) {
      const at = (head + row - from) & (RING - 1);
      const end = Math.min(to, row + RING - at);
      ring[0].set(t.subarray(row, end), at);
      ring[1].set(v.subarray(row, end), at);
      ring[2].set(i.subarray(row, end), at);
      ring[3].set(temp.subarray(row, end), at);
      row = end;
    }
    head += to - from;
  }

  function push(block: SampleBlock): void {
    for (let k = 0; k < block.n; k++) {
      if (state === 'idle') k = passIdle(block, k);
      if (k === block.n) return;
      const t = block.t[k];
      const i = known(block.i[k]);
      // A logger that loses its own supply dips deeper than any starter.
      const lost = Number.isNaN(i) && isSupplyLost(block.v[k], systemV);
      const v = lost ? Number.NaN : block.v[k];
      if (lost) {
        lostT = t;
        if (t - endedAt < SETTLED_S) isLost = true;
      }
      const dt = t - lastT;
      if (!Number.isNaN(i)) hasCurrent = true;

      if (state === 'idle') {
        if (isDeep(v, i)) begin(t, v, i);
      } else if (state === 'blocked') {
        if (Math.abs(i) >= IDLE_A) endedAt = t;
        if (!isDeep(v, i) && !(Math.abs(i) >= DEEP_A)) {
          state = 'idle';
          if (!isLost) noteLoad();
        }
      }
      if (state === 'deep' || state === 'after') {
        rows.push([t, v, i, block.temp[k]]);
        if (state === 'deep') {
          // A level that follows within 0.2 s, so that the inrush is forgotten by the time the plateau counts.
          const size = Number.isNaN(i) || byVoltage ? before - v : i * sign;
          if (!Number.isNaN(size) && dt > 0) level += (size - level) * Math.min(1, dt / 0.2);
          if (dt > 0 && t - beganAt > INRUSH_OVER_S) most = Math.max(level, most * Math.exp(-dt / FADES_S));
          if (stillDeep(v, i)) endedAt = t;
          else if (t - endedAt >= QUIET_S) state = 'after';
          if (t - beganAt > LONGEST_S) state = 'blocked';
          rowsAfter = 0;
          const goesRound =
            !byVoltage && t - beganAt > SETTLED_S && Math.abs(i) < 2 * most && isUnexplained(v, i, recent);
          if (goesRound || (Number.isNaN(i) && isFromNewLevel(t, v))) {
            reference = recent;
            begin(t, v, i, goesRound);
            rows.push([t, v, i, block.temp[k]]);
          }
        } else {
          rowsAfter++;
          const again = isDeep(v, i) && t - endedAt > QUIET_S;
          if (again || (t - endedAt >= AFTER_S && rowsAfter >= 2)) {
            evaluate();
            state = 'idle';
            if (again) {
              begin(t, v, i);
              rows.push([t, v, i, block.temp[k]]);
            }
          }
        }
      }
      if (!Number.isNaN(v)) {
        if (state !== 'deep') reference = follow(reference, v, t - knownT, state === 'after' ? 0.5 : 1.5);
        recent = follow(recent, v, t - knownT, 0.4);
        knownT = t;
      }
      const r = head++ & (RING - 1);
      ring[0][r] = t;
      ring[1][r] = v;
      ring[2][r] = i;
      ring[3][r] = block.temp[k];
      lastT = t;
    }
  }

  return {
    push,
    finish() {
      if (state === 'after' || state === 'deep') evaluate();
      return { cranks: found, loads };
    },
  };
}

/** A level that follows `v` with a time constant, s, and starts anew after a silence. */
function follow(level: number, v: number, sinceS: number, tauS: number): number {
  return sinceS < 2 ? level + (v - level) * Math.min(1, sinceS / tauS) : v;
}
