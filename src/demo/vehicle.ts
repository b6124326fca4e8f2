/**
 * An invented vehicle with a logger on its battery: `simulate(scenario)` gives the log as blocks, in bounded memory, and
 * the truth behind it. The same scenario gives the same log on every machine.
 */
import type { SampleBlock } from '../log/block.ts';
import { makeCircuit } from './circuit.ts';
import { makeLedger } from './ledger.ts';
import type { Step } from './levels.ts';
import { makePlan, type Plan } from './plan.ts';
import { uniformAt } from './random.ts';
import { sampleTimes } from './sampling.ts';
import type { ChannelSpec, Scenario, Stretch } from './scenario.ts';
import { makeSensor } from './sensor.ts';
import type { Truth } from './truth.ts';

export interface Simulation {
  /** Current positive into the battery as the sensor sees it (a reversed sensor gives the opposite). */
  readonly samples: Iterable<SampleBlock>;
  /** Known once `samples` has been read to its end; throws before. */
  truth(): Truth;
}

const ROWS = 4096;
const DAY_S = 86400;
/** Longest step of the model, s, by what goes on. */
const FINE_S = { crank: 0.001, fed: 0.25, fading: 0.25, still: 5 };

/** @param watch sees every step of what truly happens, in order; times from the start of the log */
export function simulate(scenario: Scenario, watch: (step: Step) => void = () => {}): Simulation {
  const plan = makePlan(scenario);
  let truth: Truth | undefined;
  return {
    samples: run(scenario, plan, watch, (found) => {
      truth = found;
    }),
    truth: () => {
      if (!truth) throw new Error('the truth is known only after all samples have been read');
      return truth;
    },
  };
}

function* run(
  scenario: Scenario,
  plan: Plan,
  watch: (step: Step) => void,
  done: (truth: Truth) => void,
): Generator<SampleBlock> {
  const weather = makeWeather(scenario);
  const circuit = makeCircuit(scenario, plan, () => weather.batteryC);
  const { battery } = circuit;
  const ledger = makeLedger(scenario, plan);
  const sense = makeSensor(scenario.sensor, scenario.stream + 1);
  const channels = scenario.channels.map((channel, k) =>
    makeChannel(channel, plan.channelsOn[k], scenario.stream + 10 + k),
  );
  const startCharge = battery.charge();
  const block = newBlock(channels.length);
  let n = 0;
  let row = 0;
  let t = 0;
  let lastRow = 0;
  let change = circuit.arrange(0);
  let edge = 0;

  function advance(until: number): void {
    while (t < until) {
      while (ledger.edges[edge] <= t) edge++;
      if (change <= t) change = circuit.arrange(t);
      const { crank, feed, fading } = circuit;
      const fine = crank ? FINE_S.crank : feed ? FINE_S.fed : fading ? FINE_S.fading : FINE_S.still;
      const next = Math.min(until, t + fine, change, ledger.edges[edge] ?? until);
      const dt = next - t;
      circuit.solve(t + dt / 2);
      const { v, i, baseA, aboveA } = circuit;
      const step = { from: t, dt, v, i, baseA, aboveA, tempC: weather.batteryC, charge: battery.charge() };
      ledger.add(step, crank, battery.ohm(), battery.fastOhm());
      watch(step);
      battery.step(dt, i, weather.batteryC);
      weather.step(dt, t, feed?.kind === 'running');
      t = next;
    }
    if (change <= t) change = circuit.arrange(t);
  }

  for (const at of sampleTimes(scenario, plan)) {
    advance(at);
    circuit.solve(at);
    const { feed } = circuit;
    const apertureS = Math.min(scenario.sensor.apertureS, at - lastRow);
    lastRow = at;
    const lamp = feed === undefined ? lampA(scenario, at, apertureS) : 0;
    const running = feed?.kind === 'running';
    const i = circuit.i + circuit.unseenA + lamp + (running ? ripple(scenario, n, 'A', apertureS) : 0);
    const v = circuit.v + (running ? ripple(scenario, n, 'V', apertureS) : 0);
    const reading = sense(n, v, i, weather.batteryC);
    block.t[row] = Math.round((scenario.start + at) * 1000) / 1000;
    block.v[row] = reading.v;
    block.i[row] = reading.i;
    block.temp[row] = reading.temp;
    for (let k = 0; k < channels.length; k++) block.ch[k][row] = channels[k](at, n, v, i - circuit.unseenA);
    n++;
    if (++row === ROWS) {
      yield { ...block, n: row };
      row = 0;
    }
  }
  if (row > 0) yield { ...block, n: row };
  advance(scenario.seconds);
  done(ledger.close({ start: startCharge, end: battery.charge() }));
}

function newBlock(channels: number): SampleBlock {
  const column = () => new Float64Array(ROWS);
  return { n: 0, t: column(), v: column(), i: column(), temp: column(), ch: Array.from({ length: channels }, column) };
}

/** Ambient by the time of day; the battery follows slowly and is warmed by the engine. */
function makeWeather(scenario: Scenario) {
  const { meanC, swingC, engineC } = scenario.climate;
  const ambient = (t: number) =>
    meanC + swingC * Math.cos((2 * Math.PI * (((scenario.start + t) % DAY_S) - 15 * 3600)) / DAY_S);
  let engine = 0;
  const weather = {
    batteryC: ambient(0),
    step(dt: number, t: number, running: boolean): void {
      engine += ((running ? engineC : 0) - engine) * (dt / ((running ? 2400 : 9000) + dt));
      weather.batteryC += (ambient(t) + engine - weather.batteryC) * (dt / (3600 + dt));
    },
  };
  return weather;
}

/** The alarm lamp's pulses about their mean, which the plan already counts in the sleeping draw. */
function lampA({ lamp }: Scenario, t: number, apertureS: number): number {
  if (!lamp) return 0;
  const { amps, onS, everyS } = lamp;
  const litS = (until: number) => {
    const pulses = Math.floor(until / everyS);
    return pulses * onS + Math.min(until - pulses * everyS, onS);
  };
  const from = Math.max(0, t - apertureS);
  const lit = t > from ? (litS(t) - litS(from)) / (t - from) : 0;
  return amps * (onS / everyS - lit);
}

/** Longest aperture that averages nothing out of the ripple, s. */
const RIPPLE_S = 0.02;

/** Alternator ripple and switching noise on single readings; sum of four uniforms, close enough to normal for noise. */
function ripple({ source, stream }: Scenario, n: number, unit: 'A' | 'V', apertureS: number): number {
  const base = unit === 'A' ? stream + 2 : stream + 3;
  const size = (unit === 'A' ? source.rippleA : source.rippleV) * Math.sqrt(RIPPLE_S / Math.max(RIPPLE_S, apertureS));
  let sum = -2;
  for (let k = 0; k < 4; k++) sum += uniformAt(base, 4 * n + k);
  return size * sum * Math.sqrt(3);
}

/** Readings of one monitored circuit. */
function makeChannel(channel: ChannelSpec, on: readonly Stretch[], stream: number) {
  let next = 0;
  return (t: number, n: number, v: number, i: number): number => {
    while (next < on.length && on[next].to <= t) next++;
    const active = next < on.length && on[next].from <= t;
    const noise = 0.02 * (uniformAt(stream, n) - 0.5);
    if (channel.measures === 'drop') return Math.round((Math.abs(i) * (channel.ohm ?? 0) + noise) * 1000) / 1000;
    return Math.round((active ? Math.max(0, v - 0.06) + noise : Math.abs(noise)) * 1000) / 1000;
  };
}
