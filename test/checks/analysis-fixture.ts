/**
 * A hand-built analysis to ask checks about: a week of an invented vehicle that is parked overnight, driven for half an
 * hour at 08:00 and again at 17:30. `Story` says what differs; everything else follows from it. Times in s since the epoch.
 */
import type { Analysis, Crank, Drive, Measured, Period, PeriodKind, Stand, Wake } from '../../src/analysis/model.ts';
import type { Tiles } from '../../src/analysis/tiles/tiles.ts';
import type { LogAccount, LogFault } from '../../src/log/block.ts';
import type { Session } from '../../src/manifest/session.ts';

export interface Story {
  readonly days: number;
  readonly scale: number;
  /** Draw while asleep in stand `k`, its standard uncertainty, and time to sleep; null: it never slept. */
  readonly sleepA: number | ((k: number) => number);
  readonly sleepUA: number;
  readonly settleS: number | null | ((k: number) => number | null);
  readonly awakeA: number;
  readonly wakesPerStand: number;
  readonly restV: number | ((k: number) => number);
  /** Voltage while cranking; null: too few samples. */
  readonly crankV: number | null | ((k: number) => number | null);
  readonly resistanceOhm: number | null;
  readonly driveV: number | ((k: number) => number);
  /** How far the highest 5 % of a drive lie above its median, V. */
  readonly driveSwingV: number;
  readonly driveA: number | ((k: number) => number);
  readonly temperatureC: number;
  readonly voltageU: number;
  readonly current: boolean;
  readonly temperature: boolean;
  readonly starter: boolean;
  readonly chargerAh: number;
  readonly faults: readonly LogFault[];
  readonly missingS: number;
  readonly rowsRejected: number;
  readonly direction: Analysis['direction'];
}

export const START = Date.UTC(2026, 2, 2, 6) / 1000;
const HOUR = 3600;
const DRIVE_S = 1800;

const USUAL: Story = {
  days: 7,
  scale: 1,
  sleepA: 0.018,
  sleepUA: 0.001,
  settleS: 900,
  awakeA: 3,
  wakesPerStand: 0,
  restV: 12.62,
  crankV: 10.4,
  resistanceOhm: 0.0042,
  driveV: 14.2,
  driveSwingV: 0.1,
  driveA: 4,
  temperatureC: 15,
  voltageU: 0.01,
  current: true,
  temperature: true,
  starter: true,
  chargerAh: 0,
  faults: [],
  missingS: 0,
  rowsRejected: 0,
  direction: {
    flipped: false,
    turned: null,
    agree: 28,
    against: 0,
    evidence: [
      { what: 'driving', agree: 14, against: 0 },
      { what: 'crank', agree: 14, against: 0 },
    ],
  },
};

/** The usual week, or one that differs as told. */
export function week(told: Partial<Story> = {}): Analysis {
  const story = { ...USUAL, ...told };
  const pick = <T extends number | null>(value: T | ((k: number) => T), k: number): T =>
    typeof value === 'function' ? value(k) : value;
  const volts = (value: number): Measured => ({ value: value * story.scale, u: story.voltageU });
  const temperatureC = story.temperature ? story.temperatureC : null;

  const periods: Period[] = [];
  const stands: Stand[] = [];
  const drives: Drive[] = [];
  const cranks: Crank[] = [];
  const wakes: Wake[] = [];
  const add = (kind: PeriodKind, start: number, end: number, amps: number) => {
    const ah = story.current ? (Math.abs(amps) * (end - start)) / HOUR : 0;
    if (end > start)
      periods.push({
        kind,
        start,
        end,
        chargeInAh: amps > 0 ? ah : 0,
        chargeOutAh: amps < 0 ? ah : 0,
        evidence: [],
        certainty: 1,
      });
  };

  const stand = (k: number, start: number, end: number, last: boolean) => {
    const keyOffInLog = k > 0;
    const settleS = story.current ? pick(story.settleS, k) : null;
    const settled = settleS === null ? end : Math.min(end, keyOffInLog ? start + settleS : start);
    const sleepA = pick(story.sleepA, k);
    add(story.current ? 'settling' : 'asleep', start, settled, -story.awakeA);
    add('asleep', settled, end, -sleepA);
    const asleepS = story.current ? end - settled : 0;
    const outAh = story.current ? (story.awakeA * (settled - start) + sleepA * asleepS) / HOUR : 0;
    for (let w = 0; w < (asleepS > 0 ? story.wakesPerStand : 0); w++) {
      wakes.push({
        start: settled + (w + 0.5) * (asleepS / story.wakesPerStand),
        seconds: 60,
        peakA: 3,
        meanA: 2,
        chargeAh: 2 / 60,
        stand: stands.length,
        channels: [],
      });
    }
    stands.push({
      start,
      end,
      keyOffInLog,
      keyOnInLog: !last,
      timeToSleepS: keyOffInLog && asleepS > 0 ? settleS : null,
      asleepS,
      awakeS: 0,
      settlingS: story.current ? settled - start : 0,
      unseenA: 0,
      pulses: { seen: 0, chargeAs: 0 },
      sleepDrawA: asleepS > 0 ? { value: sleepA, u: story.sleepUA } : null,
      meanDrawA: story.current ? { value: (outAh * HOUR) / (end - start), u: story.sleepUA } : null,
      chargeOutAh: outAh,
      chargeOutU: { u: 0.01 * outAh, k: 2 },
      chargeInAh: 0,
      wakes: asleepS > 0 ? story.wakesPerStand : 0,
      countedS: end - start,
      rest: {
        at: end,
        volts: volts(pick(story.restV, k)),
        sinceChargeS: end - start,
        sinceChargeInLog: keyOffInLog,
        drawA: story.current ? (asleepS > 0 ? sleepA : story.awakeA) : null,
        temperatureC,
      },
    });
  };

  const drive = (k: number, start: number) => {
    if (story.starter) {
      const crankV = pick(story.crankV, k);
      add('cranking', start, start + 1, -200);
      cranks.push({
        at: start,
        seconds: 1,
        voltsBefore: 12.5 * story.scale,
        voltsMin: 8.9 * story.scale,
        voltsCranking: crankV === null ? null : volts(crankV),
        ampsPeak: story.current ? 400 : null,
        resistanceOhm: story.current && story.resistanceOhm !== null ? { value: story.resistanceOhm, u: 0.0001 } : null,
        temperatureC,
        started: true,
        wave: { t: new Float64Array(), v: new Float64Array(), i: new Float64Array() },
      });
    }
    const from = story.starter ? start + 1 : start;
    const amps = pick(story.driveA, k);
    add('driving', from, start + DRIVE_S, amps);
    const driven = periods.at(-1);
    const driveV = pick(story.driveV, k);
    drives.push({
      start: from,
      end: start + DRIVE_S,
      voltsMedian: driveV * story.scale,
      chargeInAh: driven?.chargeInAh ?? 0,
      chargeOutAh: driven?.chargeOutAh ?? 0,
      voltsHigh: volts(driveV + story.driveSwingV),
      voltsLow: volts(driveV - 0.2),
      temperatureC,
      meanA: story.current ? amps : null,
    });
  };

  let at = START - 12 * HOUR;
  let k = 0;
  for (let day = 0; day < story.days; day++) {
    for (const hours of [2, 11.5]) {
      const keyOn = START + day * 24 * HOUR + hours * HOUR;
      stand(k, at, keyOn, false);
      drive(k, keyOn);
      at = keyOn + DRIVE_S;
      k++;
    }
  }
  const end = START + story.days * 24 * HOUR + 2 * HOUR;
  stand(k, at, end, true);
  if (story.chargerAh > 0) {
    const last = periods.pop() as Period;
    const half = (last.start + last.end) / 2;
    periods.push(
      { ...last, end: half },
      {
        kind: 'on-charger',
        start: half,
        end: last.end,
        chargeInAh: story.chargerAh,
        chargeOutAh: 0,
        evidence: [],
        certainty: 1,
      },
    );
  }
  const start = START - 12 * HOUR;
  const secondsOf = (kind: PeriodKind) =>
    periods.reduce((sum, one) => sum + (one.kind === kind ? one.end - one.start : 0), 0);
  return {
    log: account(story, end - start),
    start,
    end,
    coveredS: end - start - story.missingS,
    missingS: story.missingS,
    medianStepS: 1,
    stepsS: { driving: 1, parked: 1, awake: 1 },
    has: { current: story.current, temperature: story.temperature, channels: [] },
    temperature: story.temperature
      ? { min: story.temperatureC - 5, max: story.temperatureC + 5, mean: story.temperatureC }
      : null,
    tiles: tilesOf(periods, story),
    periods,
    stands,
    topUps: [],
    wakes,
    events: [],
    cranks,
    drives,
    resolution: { v: 0.01, i: 0.001, temp: 0.1 },
    noiseA: story.current ? 0.001 : null,
    totals: {
      chargeInAh: periods.reduce((sum, one) => sum + one.chargeInAh, 0),
      chargeOutAh: periods.reduce((sum, one) => sum + one.chargeOutAh, 0),
      chargeInU: { u: 0.1, k: 2 },
      chargeOutU: { u: 0.1, k: 2 },
      drivingS: secondsOf('driving'),
      parkedS: stands.reduce((sum, one) => sum + one.end - one.start, 0),
      asleepS: secondsOf('asleep'),
      awakeS: 0,
      settlingS: secondsOf('settling'),
      chargerS: secondsOf('on-charger'),
      chargerInAh: story.chargerAh,
      disconnectedS: 0,
    },
    direction: story.direction,
  };
}

/** A log of `hours` in which the vehicle only stands, from before the log began. */
export function standing(hours: number, told: Partial<Story> = {}): Analysis {
  const whole = week({ ...told, days: 0 });
  const start = whole.end - hours * HOUR;
  return {
    ...whole,
    start,
    coveredS: hours * HOUR,
    stands: whole.stands.map((one) => ({
      ...one,
      start,
      asleepS: one.asleepS > 0 ? hours * HOUR : 0,
      settlingS: one.asleepS > 0 ? 0 : hours * HOUR,
      countedS: hours * HOUR,
      rest: hours >= 1 && one.rest ? { ...one.rest, sinceChargeS: hours * HOUR } : null,
    })),
    periods: whole.periods.map((one) => ({ ...one, start })),
    tiles: { ...whole.tiles, t0: whole.tiles.t0.map(() => start) },
    direction: { flipped: false, turned: null, agree: 0, against: 0, evidence: [] },
  };
}

/** A log that holds rows and nothing that can be judged. */
export function nothing(): Analysis {
  return { ...standing(0.2), stands: [], periods: [] };
}

export interface SessionChanges {
  readonly session?: Partial<Session>;
  readonly vehicle?: Partial<Session['vehicle']>;
  readonly battery?: Partial<Session['battery']>;
  readonly columns?: Partial<Session['log']['columns']>;
  readonly limits?: Session['limits'];
}

/** A 12 V diesel with a 70 Ah flooded battery, current and voltage with stated accuracy. */
export function session(changes: SessionChanges = {}): Session {
  return {
    folder: '/sessions/example',
    id: 'example',
    title: 'Example',
    purpose: 'complaint',
    timezone: 'UTC',
    vehicle: { description: 'Invented van', powertrain: 'combustion', systemV: 12, ...changes.vehicle },
    battery: {
      chemistry: 'flooded',
      capacityAh: 70,
      coldCrankingA: 680,
      crankingStandard: 'EN',
      ...changes.battery,
    },
    log: {
      files: ['log.csv'],
      skipRows: 0,
      columns: {
        time: { name: 'time' },
        voltage: { name: 'v', unit: 'V', accuracy: { relative: 0.001, absolute: 0.01 } },
        current: { name: 'a', unit: 'A', positive: 'charging', accuracy: { relative: 0.01, absolute: 0.002 } },
        temperature: { name: 't', unit: '°C' },
        ...changes.columns,
      },
      channels: [],
    },
    limits: changes.limits ?? {},
    install: {},
    notes: [],
    photos: [],
    ...changes.session,
  };
}

/** The same sensors with no accuracy stated. */
export const UNSTATED: SessionChanges = {
  columns: { voltage: { name: 'v', unit: 'V' }, current: { name: 'a', unit: 'A', positive: 'charging' } },
};

function account(story: Story, seconds: number): LogAccount {
  const rows = Math.round(seconds);
  return {
    files: [{ name: 'log.csv', bytes: rows * 60, sha256: '0'.repeat(64), rows }],
    rows,
    rowsRejected: story.rowsRejected,
    faults: story.faults,
    gaps: [],
    understood: [],
  };
}

/** One tile a period: means and nothing finer. `withTiles` gives more where a check needs it. */
function tilesOf(periods: readonly Period[], { scale, temperature, temperatureC }: Story): Tiles {
  const column = (of: (period: Period) => number) => Float64Array.from(periods, of);
  const blank = column(() => Number.NaN);
  const v = column((one) => scale * (one.kind === 'driving' ? 14.2 : one.kind === 'cranking' ? 10.4 : 12.5));
  const i = column((one) => ((one.chargeInAh - one.chargeOutAh) * HOUR) / (one.end - one.start));
  return {
    n: periods.length,
    t0: column((one) => one.start),
    t1: column((one) => one.end),
    rows: column((one) => one.end - one.start),
    v,
    vMin: v,
    vMax: v,
    i,
    iMin: i,
    iMax: i,
    iCov: column((one) => one.end - one.start),
    jumpsAs2: column(() => 0),
    turnsAs2: column(() => 0),
    netAs: column((one) => (one.chargeInAh - one.chargeOutAh) * HOUR),
    iRough: blank,
    vRough: blank,
    temp: column(() => (temperature ? temperatureC : Number.NaN)),
    chMin: [],
    chMax: [],
  };
}
