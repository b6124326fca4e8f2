/**
 * Vehicles by number, as `randomScenario` gives them, with one to three faults of battery, charging, wiring or sensor put
 * in: from slight to gross, so that some of them do not matter.
 */
import { usualOhm } from '../../src/demo/battery-model.ts';
import { makeRandom, type Random } from '../../src/demo/random.ts';
import type { DriveSpec, Scenario, Stretch } from '../../src/demo/scenario.ts';
import { shutdownStages } from './shutdown.ts';
import { randomScenario } from './vehicles.ts';

const MIN = 60;
const HOUR = 3600;
const DAY = 86_400;

type Fault = (scenario: Scenario, random: Random) => Scenario;

export function faultyScenario(number: number): Scenario {
  const random = makeRandom(32_452_843 + number);
  const base = randomScenario(number);
  const count = random.pick([1, 1, 2, 3]);
  let scenario = base;
  for (let k = 0; k < count; k++) scenario = random.pick(FAULTS)(scenario, random);
  return scenario;
}

/** Each from slight to gross. */
const FAULTS: readonly Fault[] = [
  wornBattery,
  draggingStarter,
  undercharging,
  noCharging,
  overcharging,
  longStand,
  drained,
  coldAndEmpty,
  hot,
  pathRoundSensor,
  starterPastSensor,
  loadsPastSensor,
  shiftedZero,
  coarseSteps,
  lostSupply,
  droppingGround,
  shortRange,
  shortLog,
  shortTrips,
  heldByCircuit,
];

const scaled = (low: number, high: number, random: Random) => low * (high / low) ** random.uniform();

function wornBattery(scenario: Scenario, random: Random): Scenario {
  const resistanceOhm = usualOhm(scenario.battery, scenario.systemV) * scaled(1.3, 5, random);
  return { ...scenario, battery: { ...scenario.battery, resistanceOhm } };
}

/** A stiff engine or a starter with a short in its windings. */
function draggingStarter(scenario: Scenario, random: Random): Scenario {
  const drag = scaled(0.12, 0.7, random);
  return withDrives(scenario, (drive) => ({
    ...drive,
    cranks: drive.cranks.map((crank) => ({
      ...crank,
      turningOhm: crank.turningOhm * drag,
      lockedOhm: Math.min(crank.lockedOhm, crank.turningOhm * drag),
      seconds: crank.seconds * 1.5,
    })),
  }));
}

function undercharging(scenario: Scenario, random: Random): Scenario {
  const volts = scenario.source.volts - (random.between(0.5, 2.2) * scenario.systemV) / 12;
  return { ...scenario, source: { ...scenario.source, volts } };
}

/** A slipping belt, or a generator that gives nothing: nobody drives such a vehicle for long. */
function noCharging(scenario: Scenario, random: Random): Scenario {
  const maxA = random.pick([0, 0, random.between(2, 25)]);
  const drives = scenario.drives.slice(0, 3).map((drive) => ({
    ...drive,
    seconds: Math.min(drive.seconds, 1500),
    lowered: [],
    stops: [],
  }));
  return { ...scenario, drives, source: { ...scenario.source, maxA } };
}

function overcharging(scenario: Scenario, random: Random): Scenario {
  const volts = scenario.source.volts + (random.between(0.2, 1.8) * scenario.systemV) / 12;
  return { ...scenario, source: { ...scenario.source, volts } };
}

/** Driven on the first day and left for a week or two. */
function longStand(scenario: Scenario, random: Random): Scenario {
  const seconds = Math.round(random.between(6, 14) * DAY);
  return {
    ...scenario,
    seconds,
    drives: scenario.drives.filter((drive) => drive.at + drive.seconds < DAY),
    logging: { ...scenario.logging, stepS: Math.max(5, scenario.logging.stepS), asleep: { stepS: 10 } },
  };
}

/** Left with a draw that takes about all there is. */
function drained(scenario: Scenario, random: Random): Scenario {
  const charge = random.between(0.06, 0.3);
  const leftAh = random.between(-0.08, 0.08) * scenario.battery.capacityAh;
  const sleepA = Math.min(1.2, (charge * scenario.battery.capacityAh - leftAh) / (scenario.seconds / HOUR));
  return { ...scenario, battery: { ...scenario.battery, charge }, sleepA, drives: [], wakes: [] };
}

function coldAndEmpty(scenario: Scenario, random: Random): Scenario {
  return {
    ...scenario,
    battery: { ...scenario.battery, charge: random.between(0.12, 0.6) },
    climate: { ...scenario.climate, meanC: random.between(-32, -8) },
    drives: random.chance(0.5) ? [] : scenario.drives,
  };
}

function hot(scenario: Scenario, random: Random): Scenario {
  const climate = { ...scenario.climate, meanC: random.between(32, 50), engineC: random.between(12, 40) };
  return { ...scenario, climate };
}

function pathRoundSensor(scenario: Scenario, random: Random): Scenario {
  return { ...scenario, sensor: { ...scenario.sensor, bypass: random.between(0.2, 0.95) } };
}

function starterPastSensor(scenario: Scenario): Scenario {
  return { ...scenario, sensor: { ...scenario.sensor, missesStarter: true } };
}

/** Something fitted later, grounded at the battery. */
function loadsPastSensor(scenario: Scenario, random: Random): Scenario {
  const amps = random.between(8, 45);
  const everyS = random.between(1, 6) * HOUR;
  const extra = everySpan(scenario, everyS, () => random.between(2, 15) * MIN, random).map((span) => ({
    ...span,
    amps,
    awake: true,
    unseen: true,
  }));
  return { ...scenario, extra: [...(scenario.extra ?? []), ...extra] };
}

function shiftedZero(scenario: Scenario, random: Random): Scenario {
  const offsetA = scaled(0.01, 0.6, random) * (random.chance(0.7) ? 1 : -1);
  // A draw so large would hide the shift.
  return { ...scenario, sleepA: Math.min(scenario.sleepA, 0.08), sensor: { ...scenario.sensor, offsetA } };
}

function coarseSteps(scenario: Scenario, random: Random): Scenario {
  return { ...scenario, sensor: { ...scenario.sensor, resolutionA: random.pick([0.02, 0.05, 0.1, 0.2, 0.5, 1]) } };
}

/** A contact that comes and goes, or somebody who takes the battery off once. */
function lostSupply(scenario: Scenario, random: Random): Scenario {
  const count = random.pick([1, 1, 2, 4, 6]);
  const boot = shutdownStages(random, 4 * MIN, scenario.sleepA, false);
  const disconnected = everySpan(
    scenario,
    (0.9 * scenario.seconds) / count,
    () => scaled(20, 1800, random),
    random,
  ).slice(0, count);
  return { ...scenario, disconnected: disconnected.map((span) => ({ ...span, boot })) };
}

function droppingGround(scenario: Scenario, random: Random): Scenario {
  const ohm = (scaled(0.0002, 0.012, random) * scenario.systemV) / 12;
  const channel = { label: 'Engine ground', measures: 'drop', ohm } as const;
  return { ...scenario, channels: [...scenario.channels, channel] };
}

function shortRange(scenario: Scenario, random: Random): Scenario {
  return { ...scenario, sensor: { ...scenario.sensor, rangeA: random.pick([50, 100, 150, 300]) } };
}

function shortLog(scenario: Scenario, random: Random): Scenario {
  const seconds = Math.min(scenario.seconds, Math.round(random.between(1, 16) * HOUR));
  const inside = <T extends Stretch>(spans: readonly T[] = []) => spans.filter(({ to }) => to < seconds - 10 * MIN);
  return {
    ...scenario,
    seconds,
    drives: scenario.drives.filter((drive) => drive.at + drive.seconds + 180 < seconds),
    chargers: inside(scenario.chargers),
    topUps: inside(scenario.topUps),
    disconnected: inside(scenario.disconnected),
    logging: { ...scenario.logging, gaps: inside(scenario.logging.gaps) },
  };
}

/** Drives of a few minutes that put back little, and a draw that takes more. */
function shortTrips(scenario: Scenario, random: Random): Scenario {
  const seconds = random.between(90, 420);
  return {
    ...scenario,
    battery: { ...scenario.battery, charge: Math.max(0.8, scenario.battery.charge) },
    sleepA: scaled(0.04, 0.4, random),
    drives: scenario.drives.map((drive) => ({ ...drive, seconds, lowered: [], stops: [] })),
  };
}

/** After some key-offs a circuit stays on; a decoy beside it does so too, at any time. */
function heldByCircuit(scenario: Scenario, random: Random): Scenario {
  const channel = scenario.channels.length;
  const often = random.between(0.25, 0.7);
  const amps = random.between(0.8, 4);
  const apart = random.between(5, 9) * HOUR;
  const seconds = Math.max(scenario.seconds, 4 * DAY);
  const first = scenario.drives[0];
  if (!first) return scenario;
  const drives = Array.from({ length: Math.floor(seconds / apart) }, (_, k): DriveSpec => {
    const held = random.chance(often) ? { amps, seconds: random.between(0.6, 2.4) * HOUR, channel } : undefined;
    return { ...first, at: HOUR + k * apart, seconds: random.between(10, 35) * MIN, held, lowered: [], stops: [] };
  }).filter((drive) => drive.at + drive.seconds + 3 * HOUR < seconds);
  const busy = { timing: { meanEveryS: random.between(1, 6) * HOUR }, seconds: random.between(2, 50) * MIN };
  return {
    ...scenario,
    seconds,
    drives,
    chargers: [],
    topUps: [],
    disconnected: [],
    settling: shutdownStages(random, random.between(3, 20) * MIN, scenario.sleepA, false),
    channels: [
      ...scenario.channels,
      { label: 'Held circuit', measures: 'supply' },
      { label: 'Busy circuit', measures: 'supply', decoy: busy },
    ],
  };
}

function withDrives(scenario: Scenario, change: (drive: DriveSpec) => DriveSpec): Scenario {
  return { ...scenario, drives: scenario.drives.map(change) };
}

/** Spans about `everyS` apart, while nobody drives and for five minutes on either side. */
function everySpan(scenario: Scenario, everyS: number, lengthS: () => number, random: Random): Stretch[] {
  const spans: Stretch[] = [];
  for (let t = 0.3 * everyS; t < scenario.seconds - HOUR; t += everyS * random.between(0.6, 1.4)) {
    const span = { from: t, to: t + lengthS() };
    const near = ({ at, seconds }: DriveSpec) => span.from < at + seconds + 600 && span.to > at - 600;
    if (!scenario.drives.some(near)) spans.push(span);
  }
  return spans;
}
