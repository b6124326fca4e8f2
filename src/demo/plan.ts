/**
 * Lays a scenario out on one time axis before anything is simulated: which loads run when, what feeds the vehicle, and
 * the true periods. All times in s from the start of the log.
 */
import type { PeriodKind } from '../analysis/model.ts';
import { makeRandom, type Random } from './random.ts';
import type { CrankSpec, DriveSpec, Scenario, Stage, Stretch, Timing } from './scenario.ts';

export interface Load extends Stretch {
  readonly amps: number;
  readonly tauS?: number;
  /** Part of the sleeping level; everything else counts as awake. */
  readonly base: boolean;
  readonly unseen?: boolean;
}

export interface Feed extends Stretch {
  readonly kind: 'running' | 'top-up' | 'charger' | 'off';
  readonly volts: number;
  readonly maxA: number;
  readonly drive?: { readonly from: number; readonly spec: DriveSpec };
}

export interface PlannedCrank extends Stretch {
  readonly spec: CrankSpec;
  readonly starts: boolean;
}

export interface Segment extends Stretch {
  readonly kind: PeriodKind;
}

export interface PlannedParked extends Stretch {
  readonly keyOff: boolean;
  readonly keyOn: boolean;
  /** Awake stretches in order, without overlap. */
  readonly awake: readonly Stretch[];
  /** From key-off; null where unknown or never. */
  readonly timeToSleepS: number | null;
}

export interface Plan {
  readonly loads: readonly Load[];
  readonly feeds: readonly Feed[];
  readonly cranks: readonly PlannedCrank[];
  readonly drives: readonly Stretch[];
  readonly parked: readonly PlannedParked[];
  readonly wakes: readonly (Stretch & { readonly channels: readonly string[] })[];
  readonly segments: readonly Segment[];
  /** When each channel's circuit is on. */
  readonly channelsOn: readonly (readonly Stretch[])[];
}

/** A drive with its times worked out. */
interface Trip {
  readonly spec: DriveSpec;
  readonly unlock: number;
  readonly keyOn: number;
  readonly running: Stretch | null;
  readonly keyOff: number;
  readonly cranks: readonly PlannedCrank[];
}

export function makePlan(scenario: Scenario): Plan {
  const { seconds } = scenario;
  const trips = scenario.drives.map(layTrip).sort((a, b) => a.keyOn - b.keyOn);
  const loads: Load[] = [{ from: 0, to: seconds, amps: scenario.sleepA + lampMean(scenario), base: true }];
  const channelsOn: Stretch[][] = scenario.channels.map(() => []);
  const tied: (Stretch & { label: string })[] = [];
  const random = makeRandom(scenario.stream);
  const charging = [...(scenario.chargers ?? []), ...(scenario.disconnected ?? [])];

  for (const trip of trips) layTripLoads(trip, scenario, loads, channelsOn);
  for (const extra of scenario.extra ?? []) loads.push({ ...extra, base: !extra.awake });
  for (const up of scenario.topUps ?? []) loads.push({ from: up.from, to: up.to, amps: up.amps, base: false });

  const parked: PlannedParked[] = [];
  let begin = 0;
  for (let k = 0; k <= trips.length; k++) {
    const trip = trips[k];
    const end = Math.min(trip ? trip.keyOn : seconds, seconds);
    const before = trips[k - 1];
    if (end > begin) parked.push(layParked({ from: begin, to: end }, before, trip));
    begin = trip ? trip.keyOff : seconds;
    if (begin >= seconds) break;
  }

  function layParked(span: Stretch, before: Trip | undefined, after: Trip | undefined): PlannedParked {
    const awake: Stretch[] = [];
    const lay = (at: number, stages: readonly Stage[], stretch = 1): Stretch => {
      let from = at;
      for (const stage of stages) {
        const to = Math.min(from + stage.seconds * stretch, span.to);
        if (to > from) loads.push({ from, to, amps: stage.amps, tauS: stage.tauS, base: false });
        from = to;
      }
      awake.push({ from: at, to: from });
      return { from: at, to: from };
    };
    const first = before ? (before.spec.settling ?? scenario.settling) : (scenario.fitting ?? []);
    const held = before?.spec.held;
    if (held || first.length > 0) lay(span.from, held ? [held, ...first] : first);
    if (held?.channel !== undefined)
      channelsOn[held.channel].push({ from: span.from, to: Math.min(span.from + held.seconds, span.to) });
    for (const off of scenario.disconnected ?? []) {
      if (off.to > span.from && off.to < span.to) lay(off.to, off.boot);
    }
    for (const other of [...(scenario.extra ?? []).filter((e) => e.awake), ...(scenario.topUps ?? [])]) {
      const cut = { from: Math.max(other.from, span.from), to: Math.min(other.to, span.to) };
      if (cut.to > cut.from) awake.push(cut);
    }
    if (after && after.unlock < span.to) awake.push({ from: Math.max(after.unlock, span.from), to: span.to });
    const busy = join(awake);
    const asleepAt = busy[0]?.from === span.from ? busy[0].to : span.from;
    for (const source of scenario.wakes) {
      const window = {
        from: Math.max(asleepAt + QUIET_S, source.from ?? 0),
        to: Math.min(span.to, source.to ?? seconds),
      };
      for (const at of timesOf(source.timing, window, random)) {
        // Nothing starts while the vehicle is still shutting down, without a battery, or already being opened.
        if (inside(busy, at) || inside(charging, at)) continue;
        const wake = lay(at, source.stages, Math.max(0.3, 1 + (source.spread ?? 0) * random.normal()));
        if (source.channel === undefined) continue;
        channelsOn[source.channel].push(wake);
        tied.push({ ...wake, label: scenario.channels[source.channel].label });
      }
    }
    const all = join(awake);
    const settled = all[0]?.from === span.from ? all[0].to : span.from;
    return {
      ...span,
      keyOff: before !== undefined,
      keyOn: after !== undefined && after.keyOn < seconds,
      awake: all,
      timeToSleepS: before && settled < span.to ? settled - span.from : null,
    };
  }

  scenario.channels.forEach((channel, k) => {
    if (channel.decoy) {
      const { timing, seconds: length } = channel.decoy;
      for (const from of timesOf(timing, { from: 0, to: seconds }, random))
        channelsOn[k].push({ from, to: from + length });
    }
    channelsOn[k] = join(channelsOn[k]);
  });

  const wakes = parked.flatMap((stand) =>
    stand.awake
      .filter(
        (w) =>
          w.from >= stand.from + SLEEP_S &&
          w.to <= stand.to - SLEEP_S &&
          !touches(charging, w) &&
          !touches(scenario.topUps ?? [], w),
      )
      .map((w) => ({
        ...w,
        channels: [...new Set(tied.filter((t) => t.from >= w.from && t.to <= w.to).map((t) => t.label))],
      })),
  );
  return {
    loads: loads.filter((l) => l.to > l.from).sort((a, b) => a.from - b.from),
    feeds: layFeeds(scenario, trips),
    cranks: trips.flatMap((trip) => trip.cranks).filter((crank) => crank.to < seconds),
    drives: trips.flatMap((trip) => trip.running ?? []).map((d) => ({ from: d.from, to: Math.min(d.to, seconds) })),
    parked,
    wakes,
    segments: laySegments(scenario, trips, parked),
    channelsOn,
  };
}

function lampMean({ lamp }: Scenario): number {
  return lamp ? (lamp.amps * lamp.onS) / lamp.everyS : 0;
}

function layTrip(spec: DriveSpec): Trip {
  const pause = spec.betweenCranksS ?? 5;
  const cranks: PlannedCrank[] = [];
  let at = spec.at + spec.keyOnS;
  spec.cranks.forEach((crank, k) => {
    const starts = spec.seconds > 0 && k === spec.cranks.length - 1;
    cranks.push({ from: at, to: at + crank.seconds, spec: crank, starts });
    at += crank.seconds + (starts ? 0 : pause);
  });
  const keyOff = at + spec.seconds;
  for (const stop of spec.stops ?? []) {
    const from = at + stop.at + stop.seconds;
    cranks.push({ from, to: from + stop.crank.seconds, spec: stop.crank, starts: true });
  }
  const running = spec.seconds > 0 ? { from: at, to: keyOff } : null;
  return { spec, unlock: spec.at - spec.unlockS, keyOn: spec.at, running, keyOff, cranks };
}

function layTripLoads(trip: Trip, scenario: Scenario, loads: Load[], channelsOn: Stretch[][]): void {
  const { spec, unlock, keyOn, running, keyOff } = trip;
  loads.push({ from: Math.max(0, unlock), to: keyOn, amps: spec.unlockA, base: false });
  loads.push({ from: keyOn, to: running?.from ?? keyOff, amps: spec.keyOnA, base: false });
  if (spec.glow)
    loads.push({ from: keyOn, to: keyOn + spec.glow.seconds, amps: spec.glow.amps, tauS: 12, base: false });
  if (running) loads.push({ ...running, amps: spec.runningA, base: false });
  scenario.channels.forEach((channel, k) => {
    if (channel.onWhileDriving) channelsOn[k].push({ from: keyOn, to: keyOff });
    if (channel.afterRunS) channelsOn[k].push({ from: keyOff, to: keyOff + channel.afterRunS });
  });
}

function layFeeds(scenario: Scenario, trips: readonly Trip[]): Feed[] {
  const { source } = scenario;
  const feeds: Feed[] = [];
  for (const { spec, running } of trips) {
    if (!running) continue;
    let from = running.from;
    const drive = { from, spec };
    const volts = spec.volts ?? source.volts;
    for (const stop of [...(spec.stops ?? [])].sort((a, b) => a.at - b.at)) {
      const at = running.from + stop.at;
      feeds.push({ kind: 'running', from, to: at, volts, maxA: source.maxA, drive });
      from = at + stop.seconds + stop.crank.seconds;
    }
    feeds.push({ kind: 'running', from, to: running.to, volts, maxA: source.maxA, drive });
  }
  for (const up of scenario.topUps ?? []) feeds.push({ kind: 'top-up', ...up });
  for (const charger of scenario.chargers ?? []) feeds.push({ kind: 'charger', ...charger });
  for (const off of scenario.disconnected ?? [])
    feeds.push({ kind: 'off', from: off.from, to: off.to, volts: 0, maxA: 0 });
  return feeds.filter((feed) => feed.to > feed.from).sort((a, b) => a.from - b.from);
}

/** True periods, covering the log without overlap; what is painted later wins. */
function laySegments(scenario: Scenario, trips: readonly Trip[], parked: readonly PlannedParked[]): Segment[] {
  const paint: Segment[] = [];
  for (const stand of parked) {
    paint.push({ kind: 'asleep', from: stand.from, to: stand.to });
    for (const w of stand.awake)
      paint.push({ kind: stand.keyOff && w.from === stand.from ? 'settling' : 'awake', ...w });
  }
  for (const trip of trips) {
    paint.push({ kind: 'key-on', from: trip.keyOn, to: trip.running?.from ?? trip.keyOff });
    if (trip.running) paint.push({ kind: 'driving', ...trip.running });
    for (const crank of trip.cranks) paint.push({ kind: 'cranking', from: crank.from, to: crank.to });
  }
  for (const charger of scenario.chargers ?? []) paint.push({ kind: 'on-charger', from: charger.from, to: charger.to });
  for (const off of scenario.disconnected ?? []) paint.push({ kind: 'disconnected', from: off.from, to: off.to });
  for (const gap of scenario.logging.gaps ?? []) paint.push({ kind: 'no-data', from: gap.from, to: gap.to });

  const edges = [...new Set(paint.flatMap((p) => [p.from, p.to]))]
    .filter((t) => t > 0 && t < scenario.seconds)
    .sort((a, b) => a - b);
  const segments: Segment[] = [];
  let from = 0;
  for (const to of [...edges, scenario.seconds]) {
    const kind = paint.findLast((p) => p.from <= from && p.to > from)?.kind ?? 'asleep';
    const last = segments.at(-1);
    if (last?.kind === kind) segments[segments.length - 1] = { kind, from: last.from, to };
    else segments.push({ kind, from, to });
    from = to;
  }
  return segments;
}

function timesOf(timing: Timing, window: Stretch, random: Random): number[] {
  if ('at' in timing) return timing.at.filter((t) => t >= window.from && t < window.to);
  const times: number[] = [];
  const next = () =>
    'everyS' in timing ? Math.max(1, timing.everyS + timing.jitterS * random.normal()) : random.wait(timing.meanEveryS);
  for (let t = window.from + next(); t < window.to; t += next()) times.push(t);
  return times;
}

/** Modules hold off their own timers for a while after the bus has gone to sleep. */
const QUIET_S = 120;
/** A shorter quiet between two awake stretches, or before the log ends, is no sleep. */
const SLEEP_S = 60;

/** Sorted and merged where no sleep lies between. */
function join(spans: readonly Stretch[]): Stretch[] {
  const joined: Stretch[] = [];
  for (const span of [...spans].sort((a, b) => a.from - b.from)) {
    const last = joined.at(-1);
    if (last && span.from <= last.to + SLEEP_S) {
      joined[joined.length - 1] = { from: last.from, to: Math.max(last.to, span.to) };
    } else joined.push({ from: span.from, to: span.to });
  }
  return joined;
}

function touches(spans: readonly Stretch[], other: Stretch): boolean {
  return spans.some((span) => span.from <= other.to && span.to >= other.from);
}

function inside(spans: readonly Stretch[], t: number): boolean {
  return spans.some((span) => t >= span.from && t < span.to);
}
