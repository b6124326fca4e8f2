/**
 * Families of vehicles and logs that make the reading of states hard, each by number. Figures are what such vehicles
 * commonly show; no source. Logs are short, so that many can be held against their truth.
 */
import { converter, DIESEL_CRANK } from '../../src/demo/parts.ts';
import { makeRandom, type Random } from '../../src/demo/random.ts';
import type { DriveSpec, Scenario } from '../../src/demo/scenario.ts';
import { randomScenario } from './vehicles.ts';

/** A logger that writes a row only when something has changed by so much, or after so long. */
export interface SendsOnChange {
  readonly volts: number;
  readonly amps: number;
  /** Of the current, if that is more. */
  readonly share: number;
  readonly atLeastEveryS: number;
}

export type Hard = Scenario & { readonly sendsOnChange?: SendsOnChange };
export type Family = (number: number) => Hard;

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
  /** One rate throughout, too slow for a crank, or just quick enough. */
  unseen: made((scenario, random) => ({ ...scenario, logging: { stepS: random.pick([0.5, 1, 2]) } })),
  quick: made((scenario, random) => ({
    ...scenario,
    seconds: 3 * HOUR,
    drives: scenario.drives.slice(0, 1),
    logging: { stepS: random.pick([0.05, 0.1, 0.2]) },
  })),
  onChange: made((scenario, random) => ({
    ...scenario,
    logging: { stepS: random.pick([0.1, 0.2, 1]) },
    sendsOnChange: {
      volts: random.between(0.02, 0.1),
      amps: random.between(0.02, 0.3),
      share: 0.05,
      atLeastEveryS: random.pick([60, 300, 900]),
    },
  })),
  slowAsleep: made((scenario, random) => ({
    ...scenario,
    logging: { stepS: random.pick([0.1, 0.5, 1]), asleep: { stepS: random.pick([10, 30, 60]) } },
  })),
  winch: made((scenario, random) => ({
    ...scenario,
    extra: [3, 3.2, 8, 8.03, 8.06].map((hour) => ({
      from: hour * HOUR,
      to: hour * HOUR + random.between(5, 25),
      amps: random.between(60, 150),
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
    // What the battery holds lasts for all of them: no engine runs on 8 V.
    ...withDrives(scenario, (drive) => ({
      ...drive,
      seconds: Math.min(drive.seconds, 1800),
      runningA: Math.min(drive.runningA, 0.35 * scenario.battery.charge * scenario.battery.capacityAh),
    })),
    source: { ...scenario.source, maxA: random.pick([0, 0, random.between(3, 12)]) },
  })),
  /** A belt that slips once the consumers ask for much: for two thirds of each drive nothing is charged. */
  slip: made((scenario, random) =>
    withDrives(scenario, (drive) => ({
      ...drive,
      runningA: random.between(12, 30),
      lowered: [{ from: random.between(20, 0.3 * drive.seconds), to: 0.95 * drive.seconds, volts: 11.5 }],
    })),
  ),
  /** A donor, a maintainer or the sun still feeds when the starter turns. */
  fedAtStart: made((scenario, random) => ({
    ...scenario,
    chargers: scenario.drives.map((drive) => ({
      from: drive.at - random.between(10, 40) * MIN,
      to: drive.at + drive.keyOnS - 0.05,
      volts: random.between(13.3, 14.4),
      maxA: random.pick([random.between(1, 3), random.between(15, 60)]),
    })),
  })),
  midDrive: made((scenario, random) => {
    const [first, , last] = scenario.drives;
    return {
      ...scenario,
      logging: {
        ...scenario.logging,
        gaps: [
          { from: 0, to: first.at + first.keyOnS + random.between(0.2, 0.6) * first.seconds },
          { from: last.at + last.keyOnS + random.between(0.4, 0.8) * last.seconds, to: SECONDS },
        ],
      },
    };
  }),
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
  /** A battery of cells with a switch of its own, which opens for a while. */
  lithium: made((scenario, random) => ({
    ...scenario,
    battery: { chemistry: 'lfp', capacityAh: random.between(40, 100), charge: random.between(0.4, 0.9) },
    source: { ...scenario.source, perC: 0 },
    disconnected: [{ from: random.between(3, 3.5) * HOUR, to: 4.5 * HOUR, boot: [{ amps: 2, seconds: 60 }] }],
  })),
  /** Smart charging in a log too slow for it. */
  slowSmart: made((scenario, random) => {
    const stepS = random.pick([5, 10, 20, 30]);
    const slow = withDrives(scenario, (drive) => {
      const lowered: { from: number; to: number; volts: number }[] = [];
      for (let t = random.between(60, 240); t < drive.seconds; ) {
        const to = Math.min(drive.seconds, t + random.between(60, 420));
        lowered.push({ from: t, to, volts: random.between(12, 12.5) }, { from: to, to: to + 2 * stepS, volts: 14.9 });
        t = to + 2 * stepS;
      }
      return { ...drive, lowered, runningA: random.between(3, 12) };
    });
    return { ...slow, logging: { stepS } };
  }),
  /** The generator fails on the way, in one drive of three. */
  dies: made((scenario, random) => {
    const which = random.pick([0, 1, 2]);
    let at = 0;
    return withDrives(scenario, (drive) => {
      if (at++ !== which) return drive;
      const seconds = Math.min(drive.seconds, 2400);
      const most = (0.3 * scenario.battery.charge * scenario.battery.capacityAh * 3600) / seconds;
      const lowered = [{ from: random.between(0.2, 0.7) * seconds, to: seconds, volts: 11 }];
      return { ...drive, seconds, lowered, runningA: Math.min(most, random.between(10, 30)) };
    });
  }),
  /** No modules: nothing is drawn from key-off on, while surface charge keeps the voltage up. */
  bare: made((scenario, random) => ({
    ...withDrives(scenario, (drive) => ({ ...drive, settling: [], unlockA: 0 })),
    settling: [],
    sleepA: random.between(0.002, 0.006),
    battery: { ...scenario.battery, charge: random.between(0.85, 0.97) },
    logging: { stepS: random.pick([0.5, 1, 2]) },
  })),
  sun: made((scenario, random) => ({
    ...scenario,
    chargers: [{ from: 2.8 * HOUR, to: 4.6 * HOUR, volts: 13.6, maxA: random.between(0.4, 3) }],
  })),
  /** Three days of standing with a panel: it feeds a little from morning to evening, at times less than is drawn. */
  sunnyDays: made((scenario, random) => {
    const mostA = 2 * 0.01 ** random.uniform();
    const cloud = () => random.between(0.3, 1);
    return {
      ...scenario,
      seconds: 72 * HOUR,
      drives: scenario.drives.slice(0, 1),
      chargers: [1, 2].flatMap((day) =>
        Array.from({ length: 20 }, (_, k) => ({
          from: (day * 24 + 7 + k / 2) * HOUR,
          to: (day * 24 + 7.5 + k / 2) * HOUR,
          volts: 13.6,
          maxA: mostA * Math.sin((Math.PI * (k + 0.5)) / 20) * cloud(),
        })),
      ),
    };
  }),
  /** After key-off a fan runs on, switched as restlessly as a running engine's consumers. */
  fan: made((scenario, random) =>
    withDrives(scenario, (drive) => {
      const fanA = random.between(8, 25);
      const steps = Math.round(random.between(10, 60));
      const fan = Array.from({ length: steps }, () => ({
        amps: fanA + random.between(-2, 2),
        seconds: random.between(1, 5),
      }));
      return { ...drive, settling: [...fan, ...(drive.settling ?? scenario.settling)] };
    }),
  ),
  /** Glow plugs for some seconds before each start. */
  glow: made((scenario, random) => ({
    ...withDrives(scenario, (drive) => {
      const seconds = random.between(3, 10);
      const glow = { amps: random.between(60, 110), seconds: seconds + random.between(0, 20) };
      return { ...drive, keyOnS: seconds, glow, cranks: [DIESEL_CRANK] };
    }),
    logging: random.pick([{ stepS: 0.2 }, { stepS: 1 }, { stepS: 2 }, scenario.logging]),
  })),
  /** A generator at its limit: it carries the consumers, or nearly. */
  weak: made((scenario, random) => {
    const runningA = random.between(15, 40);
    const most = 0.25 * scenario.battery.charge * scenario.battery.capacityAh;
    const maxA = Math.max(runningA - most, runningA * random.between(0.7, 1.1));
    return {
      ...withDrives(scenario, (drive) => ({ ...drive, runningA })),
      source: { ...scenario.source, maxA },
    };
  }),
  /** An electric van that never sleeps, and whose converter fills its battery every one or two hours. */
  neverSleeps: made((scenario, random) => {
    const held = { amps: random.between(1.2, 3), seconds: 6 * HOUR };
    const drives = scenario.drives.map((drive): DriveSpec => {
      const opened = { amps: held.amps + random.between(3, 6), seconds: random.between(40, 200) };
      return { ...drive, cranks: [], glow: undefined, settling: [opened, held] };
    });
    const free = (at: number) => drives.every((d) => at < d.at - 1500 || at > d.at + d.seconds + 900);
    const topUps: { from: number; to: number; volts: number; maxA: number; amps: number }[] = [];
    for (let at = random.between(0.3, 0.6) * HOUR; at < SECONDS; at += random.between(80, 110) * MIN) {
      const to = at + random.between(12, 20) * MIN;
      if (free(at) && free(to)) topUps.push({ from: at, to, volts: 14.1, maxA: random.between(12, 25), amps: 2 });
    }
    return {
      ...scenario,
      powertrain: 'electric',
      source: { ...converter(), volts: scenario.source.volts },
      drives,
      fitting: [{ amps: held.amps, seconds: SECONDS }],
      topUps,
      logging: { stepS: 1 },
    };
  }),
  /** A panel by day that gives about as much as is drawn day and night. */
  evenSun: made((scenario, random) => {
    const sleepA = random.between(0.1, 0.4);
    const mostA = sleepA * random.between(0.6, 2);
    return {
      ...scenario,
      sleepA,
      seconds: 72 * HOUR,
      drives: scenario.drives.slice(0, 1),
      chargers: [1, 2].flatMap((day) =>
        Array.from({ length: 120 }, (_, k) => ({
          from: (day * 24 + 7 + k / 12) * HOUR,
          to: (day * 24 + 7 + (k + 1) / 12) * HOUR,
          volts: 13.6,
          maxA: mostA * Math.sin((Math.PI * (k + 0.5)) / 120),
        })),
      ),
    };
  }),
};

function made(change: (scenario: Scenario, random: Random) => Hard): Family {
  return (number) => {
    const random = makeRandom(49_979_687 + number);
    return change(base(number, random), random);
  };
}
