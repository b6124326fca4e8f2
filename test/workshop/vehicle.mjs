// A vehicle's 12 V (or 24 V) supply from first principles, driven by a script, with the truth kept beside the log.
// It shares no code and no idea with the program: battery, generator and logger are textbook models of their own.
//
// Battery: open-circuit voltage by charge, an ohmic part, two relaxation times (20 s and 400 s), surface charge that charging
// builds in minutes and rest or draw takes away in hours, resistance that grows in the cold. Currents: positive into the battery.

/** Random numbers that repeat: `u` in 0..1, `n` normal with deviation 1. */
export function random(seed) {
  let a = (seed * 2654435761) >>> 0;
  const u = () => {
    a = (a + 0x9e3779b9) >>> 0;
    let x = Math.imul(a ^ (a >>> 16), 0x21f0aaad);
    x = Math.imul(x ^ (x >>> 15), 0x735a2d97);
    return ((x ^ (x >>> 15)) >>> 0) / 4294967296;
  };
  const n = () => Math.sqrt(-2 * Math.log(u() + 1e-12)) * Math.cos(2 * Math.PI * u());
  return { u, n, between: (lo, hi) => lo + (hi - lo) * u() };
}

// Flooded: density of the acid + 0.84 V a cell (TM 5-684), densities of TM 5-3820-256-24-4. AGM: trade tables, from memory, weak.
// Lithium iron phosphate, four cells: the flat curve of data sheets, from memory.
const OPEN_CIRCUIT = {
  flooded: [0, 11.76, 0.25, 11.97, 0.5, 12.18, 0.75, 12.39, 1, 12.63],
  agm: [0, 11.8, 0.25, 12.03, 0.5, 12.3, 0.75, 12.58, 1, 12.86],
  lfp: [0, 10.6, 0.03, 12.1, 0.1, 12.8, 0.2, 12.95, 0.4, 13.12, 0.7, 13.22, 0.9, 13.32, 0.98, 13.36, 1, 13.55],
};
OPEN_CIRCUIT.efb = OPEN_CIRCUIT.flooded;
OPEN_CIRCUIT.gel = OPEN_CIRCUIT.agm;

export function openCircuit(chemistry, charge) {
  const table = OPEN_CIRCUIT[chemistry];
  let k = 2;
  while (k < table.length - 2 && charge > table[k]) k += 2;
  const slope = (table[k + 1] - table[k - 1]) / (table[k] - table[k - 2]);
  return table[k - 1] + slope * (charge - table[k - 2]);
}

const HOUR = 3600;
/** Stages of a usual way to sleep: [amperes, seconds]. */
export const STAIRCASE = [
  [6.2, 35],
  [2.1, 200],
  [0.65, 420],
];
export const sleepAfter = (stair) => stair.reduce((sum, [, s]) => sum + s, 0);

export class Vehicle {
  constructor(o = {}) {
    this.o = o;
    this.series = o.volts === 24 ? 2 : 1;
    this.chemistry = o.chemistry ?? 'flooded';
    this.capacityAh = o.capacityAh ?? 70;
    this.r0 = (o.milliohm ?? 6) * 1e-3 * this.series;
    this.charge = o.charge ?? 0.88;
    this.leakA = o.leakA ?? 0; // inside the battery: the sensor does not see it
    this.cells = o.missingVolts ?? 0; // what a failed cell takes away
    this.slow = { u1: 0, u2: 0, surface: o.surface ?? 0 };
    this.heat = 0;
    this.t = 0;
    this.r = random(o.seed ?? 1);
    this.begin = Date.parse(o.begin ?? '2026-03-03T17:40:00Z');
    this.logger = { step: 1, ...o.logger };
    this.nextRow = 0;
    this.busyUntil = 0;
    this.rows = { t: [], v: [], a: [], c: [], on: [] };
    this.truth = {
      drives: [],
      cranks: [],
      wakes: [],
      parked: [],
      heavy: [],
      failed: [],
      held: [],
      off: [],
      chargers: [],
    };
    Object.assign(this.truth, { inAh: 0, outAh: 0, seconds: {}, fedAh: 0 });
    this.passed = null;
    this.always = 0; // circuits that are on whatever happens, as bits
  }

  temperature() {
    const { meanC = 16, swingC = 4, peakHour = 15 } = this.o.climate ?? {};
    const hour = (this.begin / 3600e3 + this.t / HOUR) % 24;
    return meanC + swingC * Math.cos(((hour - peakHour) / 12) * Math.PI) + this.heat;
  }
  hourOfDay() {
    return (this.begin / 3600e3 + this.t / HOUR) % 24;
  }
  rest() {
    return this.series * (openCircuit(this.chemistry, this.charge) - this.cells + 0.0012 * (this.temperature() - 25));
  }

  /** One step of the battery: a load, and perhaps a source that holds `volts` as long as its amperes reach. */
  step(dt, kind, loadA, source, on) {
    const T = this.temperature();
    const r = this.r0 * (1 + 0.012 * Math.max(0, 25 - T));
    const s = this.slow;
    const E = this.rest() + this.series * s.surface + s.u1 + s.u2;
    const acceptance = ((this.chemistry === 'lfp' ? 0.004 : 0.03) * this.series * 70) / this.capacityAh;
    const back = acceptance / Math.max(0.02, 1.03 - this.charge);
    let I = -loadA;
    if (source) {
      const want = source.volts > E ? (source.volts - E) / (r + back) : (source.volts - E) / r;
      I = Math.max(-loadA, Math.min(want, source.amps - loadA));
    }
    const V = E + I * r + (I > 0 ? I * back : 0);
    this.charge += ((I > 0 ? 0.96 * I : I) - this.leakA) * (dt / HOUR / this.capacityAh);
    this.charge = Math.min(1, Math.max(0, this.charge));
    s.u1 += (I * 0.3 * r - s.u1) * (1 - Math.exp(-dt / 20));
    s.u2 += (I * 0.8 * r - s.u2) * (1 - Math.exp(-dt / 400));
    if (this.chemistry !== 'lfp') {
      if (I > 0 && V / this.series > 13) s.surface += (0.4 - s.surface) * (1 - Math.exp(-dt / 900));
      else s.surface *= Math.exp(-dt / 9000);
      if (I < 0) s.surface = Math.max(0, s.surface + (I * dt) / HOUR / (0.05 * this.capacityAh));
    }
    const hot = kind === 'driving' ? (this.o.engineHeatC ?? 6) : 0;
    this.heat += (hot - this.heat) * (1 - Math.exp(-dt / 5400));
    this.pass(dt, kind, V, I, on);
    return { V, I };
  }

  /** Time goes by: the truth is summed up, and the logger looks. */
  pass(dt, kind, V, I, on) {
    const ah = (I * dt) / HOUR;
    if (ah > 0) this.truth.inAh += ah;
    else this.truth.outAh -= ah;
    this.truth.seconds[kind] = (this.truth.seconds[kind] ?? 0) + dt;
    const stand = this.stand;
    if (stand && kind !== 'on-charger' && ah < 0) stand.outAh -= ah;
    if (stand) stand.kinds[kind] = (stand.kinds[kind] ?? 0) + Math.max(0, -ah);
    this.look(V, I, kind, on | this.always);
    this.t += dt;
    this.V = V;
    this.I = I;
  }

  look(V, I, kind, on) {
    const { step, adaptive } = this.logger;
    const t = this.t;
    if (adaptive) {
      const fast = kind === 'cranking' || kind === 'key-on' || (kind === 'driving' && this.fresh);
      const moved = Math.abs(I - (this.seenI ?? 1e9)) > Math.max(0.08, 0.04 * Math.abs(I)) || on !== this.seenOn;
      if (moved) this.busyUntil = t + 20;
      // Most look at the level too: a live vehicle is read each second, whether or not its current moves.
      const live = !adaptive.onChange && (Math.abs(I) > 0.5 || V > 13.2 * this.series);
      const wait = fast ? adaptive.fast : live || t < this.busyUntil ? adaptive.active : adaptive.quiet;
      const last = this.passed;
      this.passed = [t, V, I, this.temperature(), on];
      if (!moved && t < this.lastRow + wait - 1e-6) return;
      if (t < this.lastRow + adaptive.fast - 1e-6) return;
      // What it saw just before the change is written too, as loggers with a pre-trigger do: the step stays a step.
      if (moved && last && last[0] > this.lastRow + 1e-6) this.write(Math.max(last[0], t - 0.05), ...last.slice(1));
    } else if (t < this.nextRow - 1e-6) return;
    this.nextRow = Math.max(this.nextRow + step, t + 1e-9);
    if (!adaptive) this.nextRow = Math.ceil((t + 1e-6) / step) * step;
    this.seenI = I;
    this.seenOn = on;
    this.write(t, V, I, this.temperature(), on);
  }

  write(t, V, I, T, on) {
    this.lastRow = t;
    const { rows } = this;
    rows.t.push(t);
    rows.v.push(V);
    rows.a.push(I);
    rows.c.push(T);
    rows.on.push(on);
  }

  /** Steps of `dt` (or to the logger's next row, or an edge) until `seconds` are over; `now` gives load, source and circuits. */
  run(seconds, dt, now, edges = []) {
    const from = this.t;
    const end = from + seconds;
    const marks = [...edges.map((x) => from + x).filter((x) => x > from && x < end), end].sort((a, b) => a - b);
    let k = 0;
    while (this.t < end - 1e-6) {
      while (marks[k] <= this.t + 1e-6 && k < marks.length - 1) k++;
      let h = Math.min(typeof dt === 'function' ? dt(this.t - from) : dt, marks[k] - this.t);
      if (!this.logger.adaptive) {
        const toRow = Math.ceil((this.t + 1e-6) / this.logger.step) * this.logger.step - this.t;
        h = Math.min(h, Math.max(toRow, 0.001));
      }
      const x = this.t - from;
      const n = now(x);
      if (n.dead) this.pass(h, n.kind, n.V ?? 0, 0, 0);
      else this.step(h, n.kind, n.A, n.source, n.on ?? 0);
    }
  }

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
          const source =
            set === null
              ? outside
              : { volts: this.series * (set + ripple * this.r.n()), amps: phase === 'idle' ? amps * 0.6 : amps };
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
