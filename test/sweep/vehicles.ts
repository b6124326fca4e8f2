/**
 * Invented vehicles by number, for sweeps: `randomScenario(n)` gives the n-th, always the same. They span powertrains,
 * 6, 12 and 24 V, chemistries, climates, sleeping draws of 4 to 600 mA, shutdowns of 1 to 90 min, wakes, decoys, faults
 * and poor sensors. How often each occurs is chosen to exercise an analysis, not to mirror any fleet.
 */

import type { Chemistry, SystemVoltage } from '../../src/battery/chemistry.ts';
import { COLD_CRANKING } from '../../src/battery/rated-resistance.ts';
import { coldCrankingA } from '../../src/demo/battery-model.ts';
import { alternator, converter, GOOD_SENSOR, POOR_SENSOR, remoteWakes } from '../../src/demo/parts.ts';
import { makeRandom, type Random } from '../../src/demo/random.ts';
import type { BatterySpec, Logging, Scenario, Sensor, Source, Stretch, WakeSource } from '../../src/demo/scenario.ts';
import type { CrankingStandard, Powertrain } from '../../src/manifest/session.ts';
import { type Kind, randomDrives } from './random-drives.ts';
import { shutdownStages } from './shutdown.ts';

const MIN = 60;
const HOUR = 3600;
const DAY = 86400;
const FIRST_START = Date.UTC(2025, 0, 6, 6) / 1000;

/** What a sweep may fix; the rest is drawn. */
export interface Wishes {
  readonly days?: number;
  readonly stepS?: number;
  readonly powertrain?: Powertrain;
  readonly systemV?: SystemVoltage;
  /** Leaves out poor sensors, gaps, chargers and disconnections. */
  readonly plain?: boolean;
}

export function randomScenario(number: number, wishes: Wishes = {}): Scenario {
  const random = makeRandom(1_000_003 * (number + 1));
  const kind = randomKind(random, wishes);
  const seconds = Math.round((wishes.days ?? random.between(1, 5)) * DAY);
  const { battery, powertrain, systemV, meanC } = kind;
  // No more than half of what is there: what a dead battery does is a case of its own.
  const mostA = (0.5 * battery.charge * battery.capacityAh) / (seconds / HOUR);
  const sleepA = Math.min(mostA, 0.004 * 150 ** random.uniform());
  const settleS = MIN * 90 ** random.uniform();
  const drives = randomDrives(random, kind, seconds, settleS, sleepA);
  const channels = [
    { label: 'Circuit 1', measures: 'supply' as const },
    {
      label: 'Circuit 2',
      measures: 'supply' as const,
      decoy: { timing: { meanEveryS: random.between(1, 9) * HOUR }, seconds: random.between(20, 400) },
    },
  ].slice(0, random.pick([0, 1, 2, 2]));
  const plain = wishes.plain === true;
  const logging = randomLogging(random, wishes, seconds);
  const parkedAt = freeTime(random, drives, seconds);
  const rating = randomRating(makeRandom(1_000_033 * (number + 1)), battery, systemV);
  return {
    stream: 7919 * (number + 1),
    start: FIRST_START + Math.floor(random.between(0, 365)) * DAY,
    seconds,
    powertrain,
    systemV,
    battery: { ...battery, ...rating },
    climate: { meanC, swingC: random.between(1, 8), engineC: powertrain === 'combustion' ? random.between(10, 30) : 4 },
    sleepA,
    ...(random.chance(0.5) && {
      lamp: { amps: random.between(0.005, 0.025), onS: 0.06, everyS: random.between(0.9, 2.3) },
    }),
    settling: shutdownStages(random, settleS, sleepA, powertrain === 'combustion'),
    fitting: random.chance(0.6) ? shutdownStages(random, random.between(3, 25) * MIN, sleepA, false) : [],
    drives,
    source: randomSource(random, kind),
    wakes: randomWakes(random, sleepA, seconds, channels.length),
    ...(powertrain !== 'combustion' && random.chance(0.6) && parkedAt && { topUps: [topUp(random, parkedAt)] }),
    // On a hybrid or electric vehicle no log can tell a shop charger from the vehicle's own converter.
    ...(!plain &&
      powertrain === 'combustion' &&
      random.chance(0.15) &&
      parkedAt && { chargers: [charger(random, parkedAt, kind)] }),
    channels,
    sensor: plain
      ? { ...GOOD_SENSOR, offsetA: random.between(-0.001, 0.001), apertureS: logging.stepS }
      : randomSensor(random, systemV),
    logging,
  };
}

function randomKind(random: Random, wishes: Wishes): Kind {
  const powertrain = wishes.powertrain ?? random.pick(['combustion', 'combustion', 'combustion', 'hybrid', 'electric']);
  const systemV = wishes.systemV ?? (powertrain === 'combustion' ? random.pick([12, 12, 12, 12, 24, 6]) : 12);
  const chemistry: Chemistry =
    systemV === 6
      ? 'flooded'
      : systemV === 24
        ? random.pick(['flooded', 'flooded', 'agm', 'gel'])
        : random.pick(
            powertrain === 'combustion' ? ['flooded', 'flooded', 'efb', 'agm', 'agm'] : ['agm', 'flooded', 'lfp'],
          );
  const capacityAh = Math.round(
    systemV === 24
      ? random.between(100, 225)
      : powertrain === 'combustion'
        ? random.between(44, 105)
        : random.between(30, 60),
  );
  const charge = random.between(0.5, 0.98);
  // A discharged battery would freeze; nobody's log shows one at work.
  const meanC = random.between(charge > 0.7 ? -22 : -5, 33);
  return { powertrain, systemV, battery: { chemistry, capacityAh, charge }, meanC };
}

/** The labels of starter batteries end about here, A. */
const MOST_RATED_A = 1400;
const STANDARDS: readonly CrankingStandard[] = ['EN', 'EN', 'EN', 'SAE', 'IEC', 'DIN'];

/** What the label promises a sound battery keeps with something to spare. Some labels cannot be read, some name no standard. */
function randomRating(random: Random, battery: BatterySpec, systemV: SystemVoltage): Pick<BatterySpec, 'rating'> {
  if (battery.chemistry === 'lfp' || random.chance(0.3)) return {};
  const standard = random.pick(STANDARDS);
  const ableA = coldCrankingA(battery, systemV, COLD_CRANKING[standard]);
  const ratedA = Math.min(MOST_RATED_A, 10 * Math.round((ableA * random.between(0.75, 0.97)) / 10));
  return { rating: { coldCrankingA: ratedA, ...(random.chance(0.85) && { standard }) } };
}

function randomSource(random: Random, { powertrain, systemV, battery }: Kind): Source {
  const base = powertrain === 'combustion' ? alternator(systemV / 12) : converter();
  const shift = (random.between(-0.15, 0.2) * systemV) / 12;
  return { ...base, volts: base.volts + shift, perC: battery.chemistry === 'lfp' ? 0 : base.perC };
}

function randomWakes(random: Random, sleepA: number, seconds: number, channels: number): WakeSource[] {
  const least = Math.max(0.15, 1.5 * sleepA);
  const wake = (timing: WakeSource['timing'], channel?: number): WakeSource => ({
    timing,
    stages: [
      { amps: least * random.between(3, 8), seconds: random.between(1.5, 5) },
      { amps: least * random.between(1.5, 3), seconds: random.between(15, 160) },
      { amps: least, seconds: random.between(8, 40) },
    ],
    spread: random.between(0, 0.2),
    channel,
  });
  const wakes: WakeSource[] = [];
  if (random.chance(0.35)) {
    const everyS = random.between(12, 240) * MIN;
    wakes.push(
      wake({ everyS, jitterS: everyS * random.between(0, 0.04) }, channels > 0 && random.chance(0.7) ? 0 : undefined),
    );
  }
  if (random.chance(0.3)) wakes.push(wake({ meanEveryS: random.between(2, 14) * HOUR }));
  if (random.chance(0.3))
    wakes.push(remoteWakes([random.uniform() * seconds, random.uniform() * seconds].sort((a, b) => a - b)));
  if (random.chance(0.12)) {
    const held = { amps: random.between(0.4, 2.5), seconds: random.between(0.7, 5) * HOUR };
    wakes.push({ timing: { at: [random.uniform() * seconds] }, stages: [held] });
  }
  return wakes;
}

/** A stretch of at least four hours with the vehicle parked, an hour in; undefined where there is none. */
function freeTime(random: Random, drives: Scenario['drives'], seconds: number): Stretch | undefined {
  const edges = [0, ...drives.flatMap((d) => [d.at, d.at + d.seconds + 120]), seconds];
  const free: Stretch[] = [];
  for (let k = 0; k + 1 < edges.length; k += 2) {
    if (edges[k + 1] - edges[k] > 4 * HOUR) free.push({ from: edges[k] + 2 * HOUR, to: edges[k + 1] - HOUR });
  }
  return free.length > 0 ? random.pick(free) : undefined;
}

function topUp(random: Random, free: Stretch): NonNullable<Scenario['topUps']>[number] {
  const to = Math.min(free.to, free.from + random.between(20, 90) * MIN);
  return {
    from: free.from,
    to,
    volts: random.between(13.8, 14.4),
    maxA: random.between(12, 40),
    amps: random.between(3, 7),
  };
}

function charger(random: Random, free: Stretch, { systemV }: Kind): NonNullable<Scenario['chargers']>[number] {
  const to = Math.min(free.to, free.from + random.between(0.5, 6) * HOUR);
  return { from: free.from, to, volts: (random.between(13.5, 14.4) * systemV) / 12, maxA: random.between(3, 15) };
}

function randomSensor(random: Random, systemV: SystemVoltage): Sensor {
  const base = random.chance(0.7) ? GOOD_SENSOR : POOR_SENSOR;
  const sensor = {
    ...base,
    gain: 1 + (base.gain - 1) * random.between(-1, 1),
    offsetA: base.offsetA * random.between(-1, 1),
    reversed: random.chance(0.07),
    bypass: random.chance(0.05) ? random.between(0.1, 0.6) : 0,
    hasCurrent: random.chance(0.97),
    hasTemperature: random.chance(0.85),
  };
  return { ...sensor, ...(random.chance(0.15) && { rangeA: 200 }), noiseV: (base.noiseV * systemV) / 12 };
}

function randomLogging(random: Random, wishes: Wishes, seconds: number): Logging {
  const stepS = wishes.stepS ?? random.pick([10, 5, 2, 1, 1, 1, 0.5]);
  const adaptive = stepS >= 0.5 && random.chance(0.7);
  const gapAt = random.uniform() * seconds;
  return {
    stepS,
    ...(adaptive && { crank: { stepS: random.pick([0.01, 0.02, 0.05, 0.1]), beforeS: 2, afterS: 4 } }),
    ...(adaptive && stepS <= 1 && random.chance(0.3) && { asleep: { stepS: random.pick([2, 5, 10]) } }),
    ...(wishes.plain !== true &&
      random.chance(0.15) && { gaps: [{ from: gapAt, to: gapAt + random.between(0.01, 3) * HOUR }] }),
  };
}
