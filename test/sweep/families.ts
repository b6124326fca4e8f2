/**
 * Families of vehicles and logs that make the reading of states hard, each by number. Figures are what such vehicles
 * commonly show; no source. Logs are short, so that many can be held against their truth.
 */
import { DIESEL_CRANK } from '../../src/demo/parts.ts';
import { makeRandom, type Random } from '../../src/demo/random.ts';
import type { DriveSpec, Scenario } from '../../src/demo/scenario.ts';
import { randomScenario } from './vehicles.ts';

export type Family = (number: number) => Scenario;

const MIN = 60;
const HOUR = 3600;
const SECONDS = 14 * HOUR;

/** A combustion vehicle with two or three trips in fourteen hours, and a good sensor. */
function base(number: number, random: Random): Scenario {
  const scenario = randomScenario(number, { days: 1, powertrain: 'combustion', systemV: 12, plain: true, stepS: 1 });
  const [
    usual = randomScenario(number + 1, { days: 3, powertrain: 'combustion', systemV: 12, plain: true }).drives[0],
  ] = scenario.drives;
  const at = [random.between(1, 1.5), random.between(5, 6), random.between(9.5, 10)];
  const drives = at.map((hour): DriveSpec => {
    const seconds = random.between(6, 70) * MIN;
    const cranks = (usual?.cranks ?? []).slice(-1);
    return {
      ...usual,
      at: hour * HOUR,
      seconds,
      cranks: cranks.length ? cranks : [DIESEL_CRANK],
      lowered: [],
      stops: [],
    };
  });
  const crank = { stepS: 0.05, beforeS: 2, afterS: 4 };
  return { ...scenario, seconds: SECONDS, drives, wakes: [], logging: { stepS: 1, crank } };
}

const withDrives = (scenario: Scenario, change: (drive: DriveSpec) => DriveSpec): Scenario => ({
  ...scenario,
  drives: scenario.drives.map(change),
});

export const FAMILIES: Readonly<Record<string, Family>> = {
  /** The regulator lets the battery carry the consumers while cruising and charges hard on the overrun. */
  smart: made((scenario, random) =>
    withDrives(scenario, (drive) => {
      const lowered: { from: number; to: number; volts: number }[] = [];
      const cycleS = 30 * 20 ** random.uniform();
      for (let t = random.between(40, 240); t < drive.seconds; t += cycleS * random.between(0.5, 1.5)) {
        const to = Math.min(drive.seconds, t + cycleS * random.between(0.5, 1.5));
        lowered.push({ from: t, to, volts: random.between(12, 12.5) }, { from: to, to: to + 20, volts: 15 });
        t = to + 20;
      }
      return { ...drive, lowered, runningA: random.between(2, 12) };
    }),
  ),
  slow: made((scenario, random) => ({ ...scenario, logging: { stepS: random.pick([5, 10, 20, 30, 60]) } })),
  slowAsleep: made((scenario, random) => ({
    ...scenario,
    logging: { stepS: random.pick([0.1, 0.5, 1]), asleep: { stepS: random.pick([10, 30, 60]) } },
  })),
  winch: made((scenario, random) => ({
    ...scenario,
    extra: [3 * HOUR, 3.2 * HOUR, 8 * HOUR].map((from) => ({
      from,
      to: from + random.between(8, 25),
      amps: random.between(110, 150),
      awake: true,
    })),
  })),
  failed: made((scenario, random) =>
    withDrives(scenario, (drive) => {
      const long = { ...drive.cranks[0], seconds: random.between(6, 9) };
      const count = random.pick([2, 3, 4]);
      return random.chance(0.6)
        ? {
            ...drive,
            seconds: 0,
            betweenCranksS: random.between(8, 25),
            cranks: Array.from({ length: count }, () => long),
          }
        : { ...drive, cranks: [long, drive.cranks[0]] };
    }),
  ),
  dead: made((scenario, random) => ({
    ...withDrives(scenario, (drive) => ({ ...drive, seconds: Math.min(drive.seconds, 2400) })),
    source: { ...scenario.source, maxA: random.pick([0, 0, random.between(3, 12)]) },
  })),
  voltageOnly: made((scenario) => ({ ...scenario, sensor: { ...scenario.sensor, hasCurrent: false } })),
  houseBank: made((scenario, random) => ({
    ...scenario,
    drives: [],
    sensor: { ...scenario.sensor, hasCurrent: false },
    logging: { stepS: random.pick([10, 60]) },
    chargers: [{ from: 3 * HOUR, to: 8 * HOUR, volts: 14.2, maxA: random.between(5, 30) }],
  })),
  roundSensor: made((scenario) => ({ ...scenario, sensor: { ...scenario.sensor, missesStarter: true } })),
  cutOff: made((scenario, random) => ({
    ...scenario,
    disconnected: [{ from: random.between(11.5, 13) * HOUR, to: SECONDS, boot: [] }],
  })),
  sun: made((scenario, random) => ({
    ...scenario,
    chargers: [{ from: 2.8 * HOUR, to: 4.6 * HOUR, volts: 13.6, maxA: random.between(0.4, 3) }],
  })),
};

function made(change: (scenario: Scenario, random: Random) => Scenario): Family {
  return (number) => {
    const random = makeRandom(49_979_687 + number);
    return change(base(number, random), random);
  };
}
