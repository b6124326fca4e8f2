/**
 * Battery, loads, starter and whatever feeds the vehicle, solved as one circuit at any moment of a plan. Noiseless: the
 * sensor comes later. Times in s from the start of the log; they must not go backwards.
 */
import { type BatteryModel, makeBattery } from './battery-model.ts';
import type { Feed, Load, Plan, PlannedCrank } from './plan.ts';
import { uniformAt } from './random.ts';
import type { Scenario } from './scenario.ts';

export interface Circuit {
  readonly battery: BatteryModel;
  /** Moves the lists of what is on to time `t`; returns when they next change. */
  arrange(t: number): number;
  /** Voltage and current at `t`, left in `v`, `i`, `aboveA` (draw of loads above the sleeping level). */
  solve(t: number): void;
  v: number;
  i: number;
  aboveA: number;
  baseA: number;
  /** Part of the draw that does not pass the sensor. */
  unseenA: number;
  feed: Feed | undefined;
  crank: PlannedCrank | undefined;
  /** True while a load fades, so that fine steps are needed. */
  fading: boolean;
}

const RAMP_S = 1.5;
const FOLLOW_S = 0.25;
const HOLD_S = 3.7;
const INRUSH_RISE_S = 0.01;
/** Parts of the system voltage between which modules lose their supply. */
const OFF_BELOW = 0.5;
const ALL_ABOVE = 0.65;

export function makeCircuit(scenario: Scenario, plan: Plan, tempC: () => number): Circuit {
  const battery = makeBattery(scenario.battery, scenario.systemV, tempC());
  const { source } = scenario;
  let nextLoad = 0;
  let nextFeed = 0;
  let nextCrank = 0;
  let active: Load[] = [];
  let fixedAboveA = 0;
  let unseenLoadsA = 0;

  let baseA = 0;

  const circuit: Circuit = {
    battery,
    v: 0,
    i: 0,
    aboveA: 0,
    baseA: 0,
    unseenA: 0,
    feed: undefined,
    crank: undefined,
    fading: false,
    arrange,
    solve,
  };

  function arrange(t: number): number {
    active = active.filter((load) => load.to > t);
    while (nextLoad < plan.loads.length && plan.loads[nextLoad].from <= t) {
      const load = plan.loads[nextLoad++];
      if (load.to > t) active.push(load);
    }
    while (nextFeed < plan.feeds.length && plan.feeds[nextFeed].to <= t) nextFeed++;
    while (nextCrank < plan.cranks.length && plan.cranks[nextCrank].to <= t) nextCrank++;
    const feed = plan.feeds[nextFeed];
    const crank = plan.cranks[nextCrank];
    circuit.feed = feed && feed.from <= t ? feed : undefined;
    circuit.crank = crank && crank.from <= t ? crank : undefined;
    baseA = 0;
    fixedAboveA = 0;
    unseenLoadsA = 0;
    circuit.fading = false;
    let next = plan.loads[nextLoad]?.from ?? Number.POSITIVE_INFINITY;
    for (const load of active) {
      next = Math.min(next, load.to);
      if (load.unseen) unseenLoadsA += load.amps;
      if (load.base) baseA += load.amps;
      else if (load.tauS === undefined) fixedAboveA += load.amps;
      else circuit.fading = true;
    }
    if (feed) next = Math.min(next, feed.from > t ? feed.from : feed.to);
    if (crank) next = Math.min(next, crank.from > t ? crank.from : crank.to);
    return next;
  }

  function solve(t: number): void {
    circuit.aboveA = fixedAboveA;
    if (circuit.fading) {
      for (const load of active) {
        if (load.tauS !== undefined) circuit.aboveA += load.amps * Math.exp((load.from - t) / load.tauS);
      }
    }
    const emf = battery.emf();
    // Modules switch off one after another as the voltage fails them.
    const left = Math.min(1, Math.max(0, (emf / scenario.systemV - OFF_BELOW) / (ALL_ABOVE - OFF_BELOW)));
    circuit.baseA = left * baseA;
    circuit.aboveA *= left;
    const demand = circuit.baseA + circuit.aboveA;
    const ohm = battery.ohm();
    const { feed, crank } = circuit;
    circuit.unseenA = unseenLoadsA;
    if (feed?.kind === 'off') {
      circuit.i = 0;
      circuit.v = 0;
      circuit.unseenA = 0;
    } else if (crank) {
      const crankingA = starterA(crank, t - crank.from, emf - demand * ohm, ohm);
      circuit.i = -demand - crankingA;
      if (scenario.sensor.missesStarter) circuit.unseenA += crankingA;
      circuit.v = emf + circuit.i * ohm;
    } else if (feed) {
      const over = setVolts(feed, t) - emf;
      const wanted = over > 0 ? over / (ohm + battery.acceptOhm()) : over / ohm;
      const most = feed.maxA * Math.min(1, (t - feed.from) / RAMP_S);
      const steady = Math.max(-demand, Math.min(most - demand, wanted));
      const lag = feed.kind === 'running' ? followLag(t - feed.from) : 0;
      circuit.i = steady + lag;
      circuit.v = emf + steady * (steady > 0 ? ohm + battery.acceptOhm() : ohm) + lag * ohm;
    } else {
      circuit.i = -demand;
      circuit.v = emf - demand * ohm;
    }
  }

  function starterA(crank: PlannedCrank, at: number, openV: number, ohm: number): number {
    const { lockedOhm, turningOhm, spinS, ripple, rippleHz } = crank.spec;
    const speed = 1 - Math.exp(-at / spinS);
    const turning = lockedOhm + (turningOhm - lockedOhm) * speed;
    const compression = 1 + ripple * speed * Math.sin(2 * Math.PI * rippleHz * at);
    return (Math.max(0, openV) / (ohm + turning)) * compression * Math.min(1, at / INRUSH_RISE_S);
  }

  function setVolts(feed: Feed, t: number): number {
    if (feed.kind !== 'running') return feed.volts;
    const since = t - (feed.drive?.from ?? feed.from);
    const lowered = feed.drive?.spec.lowered?.find((phase) => since >= phase.from && since < phase.to);
    return (lowered?.volts ?? feed.volts) + source.perC * (tempC() - 20);
  }

  /** Consumers switch; until the source follows, the battery takes or gives the difference. */
  function followLag(since: number): number {
    const k = Math.floor(since / HOLD_S);
    const level = (n: number) => source.stepsA * (uniformAt(scenario.stream + 77, n) - 0.5);
    return (level(k) - level(k + 1)) * Math.exp(-(since - k * HOLD_S) / FOLLOW_S);
  }

  return circuit;
}
