// A vehicle's 12 V (or 24 V) supply from first principles, and the rows that a logger takes of it.
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

export const HOUR = 3600;

export class Supply {
  constructor(o = {}) {
    this.o = o;
    this.series = o.volts === 24 ? 2 : 1;
    this.chemistry = o.chemistry ?? 'flooded';
    this.capacityAh = o.capacityAh ?? 70;
    // 4.2 mΩ at 25 °C, half as much again at −18 °C, give the 640 A of the label at 7.5 V after 10 s (EN cold cranking).
    this.r0 = (o.milliohm ?? 4.2) * 1e-3 * this.series;
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
      feeds: [],
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
    // What charging meets besides resistance, smallest where the battery is empty: lithium hardly any, AGM half of flooded.
    const acceptance = ({ lfp: 0.004, agm: 0.015 }[this.chemistry] ?? 0.03) * this.series * (70 / this.capacityAh);
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
    if (kind === 'on-charger' && ah > 0) this.truth.fedAh += ah;
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
}
