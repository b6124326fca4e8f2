// Vehicles by number for the coverage run: each with a sensor that errs at random within what its maker states, in one of four ways of
// writing rows.
import { PLAIN_STYLE } from '../../.build/demo/log-text.js';
import { alternator, DIESEL_CRANK, drive, GOOD_SENSOR, PETROL_CRANK, QUICK_SETTLING } from '../../.build/demo/parts.js';
import { makeRandom } from '../../.build/demo/random.js';

const MIN = 60;
const HOUR = 3600;

/** How rows are written: what is a name here is a column of the table. */
export const STYLES = {
  '0.5 s, fine from the inrush on': () => ({ stepS: 0.5, crank: { stepS: 0.02, beforeS: 0, afterS: 4 } }),
  '1 s throughout': () => ({ stepS: 1 }),
  '1 s, fine before cranks': () => ({ stepS: 1, crank: { stepS: 0.02, beforeS: 2, afterS: 4 } }),
  '10 to 60 s': (random) => ({
    stepS: random.pick([10, 20, 30, 60]),
    crank: { stepS: 0.02, beforeS: 2, afterS: 4 },
  }),
};

export const styleOf = (number) => Object.keys(STYLES)[number % Object.keys(STYLES).length];

/** What the maker of a logger states, from a good one to a clamp; the error lies anywhere within. */
function randomSensor(random) {
  const isClamp = random.chance(0.3);
  const relative = isClamp ? 0.02 : random.pick([0.003, 0.005, 0.01]);
  const absoluteA = isClamp ? random.pick([0.01, 0.03]) : random.pick([0.001, 0.002, 0.004]);
  const absoluteV = random.pick([0.005, 0.01, 0.02]);
  const relativeV = random.pick([0.0005, 0.001, 0.002]);
  return {
    stated: {
      voltage: `${relativeV * 100} % + ${absoluteV * 1000} mV`,
      current: `${relative * 100} % + ${absoluteA * 1000} mA`,
      range: '1500 A',
    },
    sensor: {
      ...GOOD_SENSOR,
      gain: 1 + random.between(-relative, relative),
      offsetA: random.between(-absoluteA, absoluteA),
      driftA: 0,
      noiseA: isClamp ? random.between(0.003, 0.02) : random.between(0.0003, 0.003),
      resolutionA: isClamp ? 0.01 : random.pick([0.001, 0.002]),
      rangeA: 1500,
      gainV: 1 + random.between(-relativeV, relativeV),
      offsetV: random.between(-absoluteV, absoluteV),
      noiseV: random.between(0.0005, 0.004),
      resolutionV: random.pick([0.001, 0.002, 0.01]),
      offsetC: random.between(-1.5, 1.5),
    },
  };
}

/** A drive at about `at`, with a load that stays after it in one of three. */
function randomDrive(random, at, starter) {
  const held = random.chance(0.3) && { amps: random.between(0.5, 3), seconds: random.between(1.5, 4) * HOUR };
  return drive(at + random.between(0, HOUR), random.between(12, 50) * MIN, {
    cranks: [{ ...starter, seconds: starter.seconds * random.between(0.8, 1.8) }],
    runningA: random.between(15, 45),
    ...(held && { held }),
  });
}

/** The session of a number, always the same. */
export function vehicle(number) {
  const random = makeRandom(500_009 + 7_907 * number);
  const logging = STYLES[styleOf(number)](random);
  const { sensor, stated } = randomSensor(random);
  const starter = random.pick([DIESEL_CRANK, PETROL_CRANK]);
  const hours = Math.round(random.between(34, 46));
  const slower = random.between(0.5, 2);
  const capacityAh = Math.round(random.between(45, 100));
  const wakes = random.chance(0.5)
    ? [
        {
          timing: { everyS: random.between(25, 90) * MIN, jitterS: 30 },
          stages: [{ amps: random.between(0.5, 4), seconds: random.between(60, 200) }],
          spread: 0.05,
        },
      ]
    : [];
  const scenario = {
    stream: 31_337 + number,
    start: Date.UTC(2026, 1, 2 + (number % 20), 5) / 1000,
    seconds: hours * HOUR,
    powertrain: 'combustion',
    systemV: 12,
    battery: {
      chemistry: random.pick(['flooded', 'flooded', 'efb', 'agm']),
      capacityAh,
      charge: random.between(0.55, 0.92),
    },
    climate: { meanC: random.between(-8, 28), swingC: random.between(1, 6), engineC: random.between(10, 22) },
    sleepA: 0.008 * 10 ** random.uniform(),
    settling: QUICK_SETTLING.map(({ amps, seconds }) => ({ amps, seconds: seconds * slower })),
    drives: [1.5, 12, hours - 3].map((at) => randomDrive(random, at * HOUR, starter)),
    source: alternator(),
    wakes,
    channels: [],
    sensor,
    logging,
  };
  return {
    scenario,
    style: { ...PLAIN_STYLE, split: 'one' },
    words: {
      session: { id: `coverage-${number}`, title: 'Coverage', purpose: 'complaint', timezone: 'UTC' },
      vehicle: { description: 'Invented vehicle' },
      battery: {},
      accuracy: stated,
    },
  };
}
