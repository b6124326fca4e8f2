// A script drives the supply: key on, crank, drive, park, charge, lose contact. The truth is kept beside the log.
import { HOUR, random, Supply } from './supply.mjs';

export { random };

/** Stages of a usual way to sleep: [amperes, seconds]. */
export const STAIRCASE = [
  [6.2, 35],
  [2.1, 200],
  [0.65, 420],
];
export const sleepAfter = (stair) => stair.reduce((sum, [, s]) => sum + s, 0);

export class Vehicle extends Supply {
  keyOn(seconds = 8, amps = 9, source = undefined) {
    this.run(seconds, 0.25, () => ({ kind: 'key-on', A: amps * (1 + 0.02 * this.r.n()), source, on: 1 }));
    return this;
  }

  /** The starter as a resistance: nearly a short at standstill, more once it turns, with the compressions' ripple. */
  crank({ seconds = 0.9, fails = false, stalledOhm = 0.014, turningOhm = 0.056, click = false, source } = {}) {
    const at = this.t;
    const before = this.V ?? this.rest();
    let min = 99;
    let amps = 0;
    const wiring = this.series;
    this.run(seconds, 0.02, (x) => {
      const turning = wiring * turningOhm * (1 + 0.12 * Math.sin(2 * Math.PI * 6.5 * x));
      const ohm = click
        ? wiring * 1.5
        : wiring * stalledOhm + (turning - wiring * stalledOhm) * (1 - Math.exp(-x / 0.06));
      const T = this.temperature();
      const r = this.r0 * (1 + 0.012 * Math.max(0, 25 - T));
      const E = this.rest() + this.series * this.slow.surface + this.slow.u1 + this.slow.u2;
      const A = E / (r + ohm);
      min = Math.min(min, E - A * r);
      amps = Math.max(amps, A);
      return { kind: 'cranking', A, source, on: 1 };
    });
    const c = { at, seconds, voltsBefore: before, voltsMin: min, amps, tempC: this.temperature() };
    (fails ? this.truth.failed : this.truth.cranks).push(c);
    return this;
  }

  /** A drive: the road changes every few seconds to minutes, the regulator answers, consumers come and go. */
  drive(minutes, { regulator = fixed(14.3), loadA = 16, amps = 95, ripple = 0.02, dips, stops, outside } = {}) {
    const start = this.t;
    const before = { inAh: this.truth.inAh, outAh: this.truth.outAh };
    const volts = [];
    let phase = 'idle';
    let until = 0;
    let extra = 0;
    let extraUntil = 0;
    const road = {
      idle: ['pull'],
      pull: ['cruise', 'cruise', 'overrun'],
      cruise: ['overrun', 'pull', 'cruise'],
      overrun: ['idle', 'pull', 'cruise'],
    };
    const lasts = { idle: [8, 40], pull: [6, 18], cruise: [20, 160], overrun: [5, 22] };
    const fine = this.logger.adaptive ? 1 : Math.min(1, this.logger.step);
    this.fresh = true;
    const dip = dips ? this.r.between(20, 60) : Infinity;
    let nextDip = dip;
    let left = minutes * 60;
    while (left > 0) {
      const stretch = stops ? Math.min(left, this.r.between(stops.everyS[0], stops.everyS[1])) : left;
      const part = this.t - start;
      this.run(
        stretch,
        (x) => (x + part < 4 ? Math.min(fine, 0.25) : fine),
        (x0) => {
          const x = part + x0;
          this.fresh = x < 4;
          if (x >= until) {
            if (x > 0) phase = road[phase][Math.floor(this.r.u() * road[phase].length)];
            until = x + this.r.between(...lasts[phase]);
          }
          if (x >= extraUntil) {
            extra = this.r.u() < 0.3 ? this.r.between(4, 14) : 0;
            extraUntil = x + this.r.between(30, 240);
          }
          let load = (loadA + extra) * (1 + 0.03 * this.r.n());
          if (x >= nextDip) {
            load += x < nextDip + dips.seconds ? dips.A : 0;
            if (x >= nextDip + dips.seconds) nextDip = x + this.r.between(dips.everyS[0], dips.everyS[1]);
          }
          const set =
            x < 1.2 ? null : regulator({ x, phase, charge: this.charge, T: this.temperature(), I: this.I, r: this.r });
          const held = set?.battery === undefined ? set : 14.9;
          // A regulator that steers the battery's current leaves that much of the consumers to it, or adds it.
          const most = set?.battery === undefined ? (phase === 'idle' ? amps * 0.6 : amps) : load + set.battery;
          const source = set === null ? outside : { volts: this.series * (held + ripple * this.r.n()), amps: most };
          const V = this.V / this.series;
          volts.push(V);
          return { kind: 'driving', A: load, source: source ?? undefined, on: 1 };
        },
      );
      left -= stretch;
      if (stops && left > 60) {
        const halt = Math.min(this.r.between(...stops.lastS), left - 20);
        this.run(halt, Math.min(1, fine), () => ({ kind: 'driving', A: 22 * (1 + 0.03 * this.r.n()), on: 1 }));
        left -= halt;
        this.crank({ seconds: 0.45, stalledOhm: 0.02, turningOhm: 0.06 });
        this.truth.restarts = (this.truth.restarts ?? 0) + 1;
        phase = 'idle';
        until = 0;
      }
    }
    volts.sort((a, b) => a - b);
    const { inAh, outAh } = this.truth;
    const d = { start, end: this.t, volts: volts[volts.length >> 1] / 1 };
    this.truth.drives.push({ ...d, inAh: inAh - before.inAh, outAh: outAh - before.outAh });
    return this;
  }

  trip(minutes, { crank, keyS, keyA, feed, ...drive } = {}) {
    this.keyOn(keyS, keyA, feed);
    if (crank !== false) this.crank({ ...crank, source: feed });
    return this.drive(minutes, drive);
  }

  /**
   * A stand. `stair` falls away where the log begins parked. `sleepA` is a number, or a function of {x, hour, T}. `wakes` and `held`
   * are [{at, seconds, A, on}] in seconds from key-off; `feeds` [{at, seconds, volts, amps}] from outside (`amps` may be a function
   * of the hour of day); `heavy` loads with the engine off.
   */
  park(
    hours,
    { stair = STAIRCASE, sleepA = 0.018, wakes = [], held = [], feeds = [], heavy = [], decoys = [], onStair = 1 } = {},
  ) {
    const seconds = hours * HOUR;
    const asleepAt = sleepAfter(stair);
    const start = this.t;
    const stand = { start, keyOff: stair.length > 0, outAh: 0, kinds: {}, asleepAt, sleepA };
    if (!this.stand) this.truth.parked.push(stand);
    else this.stand.end = undefined;
    this.stand ??= stand;
    const all = [...wakes, ...held, ...heavy, ...decoys, ...feeds];
    const edges = [asleepAt, ...all.flatMap((e) => [e.at, e.at + e.seconds])];
    let edge = 0;
    for (const [, s] of stair) {
      edge += s;
      edges.push(edge);
    }
    const inside = (e, x) => x >= e.at - 1e-6 && x < e.at + e.seconds - 1e-6;
    const steady = typeof sleepA === 'number';
    const quick = feeds.length || !steady ? 2 : 5;
    this.run(
      seconds,
      quick,
      (x) => {
        let kind = 'asleep';
        let on = 0;
        let A = steady ? sleepA : sleepA({ x, hour: this.hourOfDay(), T: this.temperature() });
        let sum = 0;
        for (const [level, s] of stair) {
          if (x < sum + s - 1e-6) {
            kind = 'settling';
            A = level;
            on |= onStair;
            break;
          }
          sum += s;
        }
        for (const h of held)
          if (inside(h, x)) [A, kind, on] = [A + h.A, kind === 'settling' ? kind : 'awake', on | (h.on ?? 0)];
        for (const w of wakes)
          if (inside(w, x)) [A, kind, on] = [A + w.A, kind === 'settling' ? kind : 'awake', on | (w.on ?? 0)];
        for (const h of heavy) if (inside(h, x)) [A, kind, on] = [A + h.A, 'awake', on | (h.on ?? 0)];
        for (const d of decoys) if (inside(d, x)) on |= d.on;
        let source;
        for (const f of feeds) {
          if (!inside(f, x)) continue;
          const amps = typeof f.amps === 'function' ? f.amps(this.hourOfDay()) : f.amps;
          if (amps <= 0.005) continue;
          source = { volts: this.series * f.volts, amps };
          kind = 'on-charger';
        }
        return { kind, A: A * (1 + 0.004 * this.r.n()), source, on };
      },
      edges,
    );
    this.stand.end = this.t;
    for (const w of wakes)
      this.truth.wakes.push({ start: start + w.at, seconds: w.seconds, A: w.A, source: w.source ?? 0 });
    for (const h of held)
      this.truth.held.push({ start: start + h.at, end: start + Math.min(seconds, h.at + h.seconds), A: h.A });
    for (const f of feeds) this.truth.feeds.push({ start: start + f.at, seconds: f.seconds });
    for (const h of heavy) this.truth.heavy.push({ start: start + h.at, seconds: h.seconds, A: h.A });
    if (!this.keepStand) this.stand = null;
    return this;
  }

  /** A charger on the standing vehicle: constant current, then constant voltage. */
  charger(hours, { volts = 14.4, amps = 5, loadA = 0.02 } = {}) {
    const start = this.t;
    const source = { volts: this.series * volts, amps: amps + loadA };
    this.run(hours * HOUR, 2, () => ({ kind: 'on-charger', A: loadA, source }));
    this.truth.chargers.push({ start, end: this.t });
    return this;
  }

  /** Nothing at the logger's voltage wires: terminal off, or a battery's own switch open. */
  dead(hours, volts = 0) {
    const start = this.t;
    this.run(hours * HOUR, 5, () => ({ kind: 'disconnected', dead: true, V: volts }));
    this.truth.off.push({ start, end: this.t });
    return this;
  }

  /** The logger has no power: nothing is written, time goes by. */
  unlogged(hours) {
    const look = this.look;
    this.look = () => {};
    this.run(hours * HOUR, 30, () => ({ kind: 'no-data', A: 0.02 }));
    this.look = look;
    if (!this.logger.adaptive) this.nextRow = Math.ceil(this.t / this.logger.step) * this.logger.step;
    return this;
  }
}

/** A regulator that holds one voltage, falling with warmth (volts for each °C; 0.1 V for each 10 °C is usual). */
export const fixed =
  (volts, perC = -0.01, atC = 20) =>
  ({ T }) =>
    volts + perC * (T - atC);
/** Events every `period` seconds from `from`, each with its own scatter. */
export function every(from, period, seconds, A, hours, { on = 0, jitter = 0, r = random(5), source = 0 } = {}) {
  const list = [];
  for (let at = from; at + seconds < hours * HOUR - 60; at += period)
    list.push({ at: at + jitter * (r.u() - 0.5), seconds, A, on, source });
  return list;
}
export const repeat = (n, f) => {
  for (let k = 0; k < n; k++) f(k);
};
