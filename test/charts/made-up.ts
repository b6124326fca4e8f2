/** A made-up five-day Analysis with drives, cranks, wakes and a gap, for charts only: not physics, but the right shapes. */
import type { Analysis, Crank, Drive, Period, Stand, Wake } from '../../src/analysis/model.ts';
import type { Tiles } from '../../src/analysis/tiles/tiles.ts';
import type { Finding } from '../../src/checks/check.ts';
import type { Session } from '../../src/manifest/session.ts';

export const START_S = Date.UTC(2026, 2, 3, 17, 40) / 1000;
const HOUR_S = 3600;
const TILE_S = 60;

interface Stretch {
  readonly kind: Period['kind'];
  readonly hours: number;
}
/** Evening home, night, to work, day, home …; one gap on the fourth day. */
const PLAN: readonly Stretch[] = [
  { kind: 'driving', hours: 0.7 },
  { kind: 'settling', hours: 0.4 },
  { kind: 'asleep', hours: 13 },
  { kind: 'driving', hours: 0.5 },
  { kind: 'settling', hours: 0.5 },
  { kind: 'asleep', hours: 8.5 },
  { kind: 'driving', hours: 0.6 },
  { kind: 'settling', hours: 1.4 },
  { kind: 'asleep', hours: 26 },
  { kind: 'no-data', hours: 3 },
  { kind: 'asleep', hours: 14 },
  { kind: 'key-on', hours: 0.1 },
  { kind: 'driving', hours: 0.8 },
  { kind: 'settling', hours: 0.35 },
  { kind: 'asleep', hours: 42 },
];

/** The same numbers in every run. */
function noise(seed: number): () => number {
  let state = seed;
  return () => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return state / 2 ** 31 - 1;
  };
}

export function madeUp(): { analysis: Analysis; session: Session; findings: readonly Finding[] } {
  const random = noise(7);
  const columns: Record<string, number[]> = {};
  const push = (values: Record<string, number>) => {
    for (const [name, value] of Object.entries(values)) {
      columns[name] ??= [];
      columns[name].push(value);
    }
  };
  const periods: Period[] = [];
  const wakes: Wake[] = [];
  const stands: Stand[] = [];
  const drives: Drive[] = [];
  const cranks: Crank[] = [];
  let t = START_S;
  let restV = 12.68;
  let stand = { start: 0, settlingS: 0, asleepS: 0, wakes: 0 };

  const addPeriod = (kind: Period['kind'], start: number, end: number, amps: number) =>
    periods.push({
      kind,
      evidence: [],
      certainty: 1,
      start,
      end,
      chargeInAh: (Math.max(amps, 0) * (end - start)) / 3600,
      chargeOutAh: (Math.max(-amps, 0) * (end - start)) / 3600,
    });
  const addTiles = (end: number, volts: (s: number) => number, amps: (s: number) => number, spread: number) => {
    const from = t;
    for (; t < end - 1; t += TILE_S) {
      const [v, i] = [volts(t - from) + 0.004 * random(), amps(t - from) * (1 + 0.05 * random())];
      push({
        t0: t,
        t1: Math.min(t + TILE_S, end),
        rows: 60,
        v,
        vMin: v - 0.01 - spread * 0.02,
        vMax: v + 0.01 + spread * 0.01,
        i,
        iMin: i - Math.abs(i) * spread - 0.004,
        iMax: i + Math.abs(i) * spread + 0.004,
        iCov: TILE_S,
        netAs: i * TILE_S,
        jumpsAs2: 0,
        iRough: 0.001,
        vRough: 0.001,
        temp: 9 + 6 * Math.sin(((t - START_S) / 86400) * 2 * Math.PI + 1.4),
      });
    }
  };
  const endStand = (end: number, keyOn: boolean) => {
    if (stand.start === 0) return;
    stands.push({
      start: stand.start,
      end,
      keyOffInLog: true,
      keyOnInLog: keyOn,
      timeToSleepS: stand.settlingS,
      asleepS: stand.asleepS,
      awakeS: stand.wakes * 90,
      settlingS: stand.settlingS,
      unseenA: 0,
      pulses: { seen: 0, chargeAs: 0 },
      sleepDrawA: { value: 0.021 + 0.013 * stands.length, u: 0.002 + 0.001 * stands.length },
      meanDrawA: { value: 0.06 + 0.013 * stands.length, u: 0.003 },
      chargeOutAh: 1.2,
      chargeOutU: { u: 0.02, k: 2 },
      chargeInAh: 0,
      wakes: stand.wakes,
      countedS: end - stand.start,
      rest: {
        at: end - 600,
        volts: { value: restV, u: 0.012 },
        sinceChargeS: end - stand.start,
        sinceChargeInLog: true,
        drawA: 0.03,
        temperatureC: 10,
      },
    });
    stand = { start: 0, settlingS: 0, asleepS: 0, wakes: 0 };
  };

  for (const { kind, hours } of PLAN) {
    const [start, end] = [t, t + hours * HOUR_S];
    if (kind === 'no-data') t = end;
    if (kind === 'settling') {
      stand = { start, settlingS: end - start, asleepS: 0, wakes: 0 };
      addTiles(
        end,
        (s) => 12.9 - 0.2 * (s / (end - start)),
        (s) => -(s < 600 ? 6 : s < (end - start) * 0.7 ? 1.8 : 0.4),
        0.2,
      );
    }
    if (kind === 'driving') {
      endStand(start, true);
      cranks.push(madeUpCrank(start, cranks.length, random));
      const before = columns.t0?.length ?? 0;
      addTiles(
        end,
        (s) => 14.4 - 0.2 * Math.min(1, s / 1800),
        (s) => 28 * Math.exp(-s / 900) + 3,
        0.4,
      );
      columns.vMin[before] = 9.7 - 0.2 * cranks.length;
      columns.iMin[before] = -420;
      drives.push({
        start,
        end,
        voltsMedian: 14.25 - 0.05 * drives.length,
        chargeInAh: 6,
        chargeOutAh: 0.3,
        voltsHigh: { value: 14.5, u: 0.02 },
        voltsLow: { value: 13.9, u: 0.02 },
        temperatureC: 6 + 4 * drives.length,
        meanA: 9,
      });
      restV -= 0.05;
    }
    if (kind === 'key-on') {
      endStand(start, true);
      addTiles(
        end,
        () => 12.1,
        () => -11,
        0.1,
      );
    }
    if (kind === 'asleep') {
      stand.asleepS += end - start;
      let asleepFrom = start;
      const level = 0.021 + 0.013 * stands.length;
      const waking = (s: number) => s % 5400 >= 5400 - TILE_S;
      addTiles(
        end,
        (s) => restV + 0.08 * Math.exp(-s / 9000),
        (s) => -(waking(s) ? 1.6 : level),
        0.15,
      );
      for (let at = start + 5400 - TILE_S; at < end; at += 5400) {
        addPeriod('asleep', asleepFrom, at, -level);
        addPeriod('awake', at, at + TILE_S, -1.6);
        asleepFrom = at + TILE_S;
        stand.wakes++;
        wakes.push({
          start: at,
          seconds: TILE_S,
          peakA: 2.1,
          meanA: 1.6,
          chargeAh: 0.027,
          stand: stands.length,
          channels: [],
        });
      }
      addPeriod('asleep', asleepFrom, end, -level);
    } else addPeriod(kind, start, end, kind === 'driving' ? 9 : kind === 'no-data' ? 0 : -2);
    t = end;
  }
  endStand(t, false);

  const list = (name: string) => Float64Array.from(columns[name]);
  const tiles: Tiles = {
    n: columns.t0.length,
    ...(Object.fromEntries(Object.keys(columns).map((name) => [name, list(name)])) as unknown as Omit<
      Tiles,
      'n' | 'chMin' | 'chMax'
    >),
    chMin: [],
    chMax: [],
  };
  const analysis: Analysis = {
    log: {
      files: [{ name: 'log/one.csv', bytes: 1e6, sha256: '0', rows: 4e5 }],
      rows: 4e5,
      rowsRejected: 3,
      faults: [
        { kind: 'gap', at: START_S + 51.6 * HOUR_S, count: 1, seconds: 3 * HOUR_S },
        { kind: 'unreadable-row', at: START_S + 30 * HOUR_S, count: 3, seconds: 0 },
        { kind: 'clock-jump', at: START_S + 80 * HOUR_S, count: 1, seconds: 12 },
      ],
      gaps: [],
      understood: [],
    },
    start: START_S,
    end: t,
    coveredS: t - START_S - 3 * HOUR_S,
    missingS: 3 * HOUR_S,
    medianStepS: 1,
    stepsS: { driving: 0.1, parked: 1, awake: 1 },
    has: { current: true, temperature: true, channels: [] },
    resolution: { v: 0.001, i: 0.001, temp: 0.1 },
    noiseA: 0.002,
    temperature: { min: 3, max: 15, mean: 9 },
    tiles,
    periods,
    stands,
    topUps: [],
    wakes,
    events: [],
    cranks,
    drives,
    totals: {
      chargeInAh: 26,
      chargeOutAh: 9,
      chargeInU: { u: 0.1, k: 2 },
      chargeOutU: { u: 0.1, k: 2 },
      drivingS: 2.6 * HOUR_S,
      parkedS: 100 * HOUR_S,
      asleepS: 98 * HOUR_S,
      awakeS: HOUR_S,
      settlingS: 2.65 * HOUR_S,
      chargerS: 0,
      chargerInAh: 0,
      disconnectedS: 0,
    },
    direction: {
      flipped: false,
      turned: null,
      agree: 41,
      against: 1,
      evidence: [
        { what: 'crank', agree: 4, against: 0 },
        { what: 'driving', agree: 4, against: 0 },
        { what: 'step', agree: 31, against: 1 },
        { what: 'asleep', agree: 2, against: 0 },
      ],
    },
  };
  return { analysis, session: madeUpSession(), findings: madeUpFindings() };
}

function madeUpCrank(at: number, number: number, random: () => number): Crank {
  const n = 400;
  const wave = { t: new Float64Array(n), v: new Float64Array(n), i: new Float64Array(n) };
  for (let k = 0; k < n; k++) {
    const s = k / 100 - 1;
    const cranking = s >= 0 && s < 0.9 + 0.1 * number;
    const turning = Math.sin(s * 38 + number);
    const dip =
      s < 0
        ? 0
        : s < 0.08
          ? 4.2 + 0.3 * number
          : cranking
            ? 2 + 0.35 * number + 0.25 * turning
            : -1.6 * (1 - Math.exp(-(s - 1) * 2));
    wave.t[k] = at + s;
    wave.v[k] = 12.4 - dip + 0.02 * random();
    wave.i[k] = s < 0 ? -8 : s < 0.08 ? -610 : cranking ? -190 + 30 * turning : 40 * Math.exp(-(s - 1));
  }
  return {
    at,
    seconds: 0.9 + 0.1 * number,
    voltsBefore: 12.4,
    voltsMin: 8.2 - 0.3 * number,
    voltsCranking: { value: 10.4 - 0.35 * number, u: 0.03 },
    ampsPeak: 610,
    resistanceOhm: { value: 0.0072, u: 0.0004 },
    temperatureC: 8,
    started: true,
    wave,
  };
}

export function madeUpSession(): Session {
  return {
    folder: '/nowhere',
    id: 'made-up',
    title: 'Made up',
    purpose: 'complaint',
    timezone: 'Europe/Dublin',
    vehicle: { description: 'A van', powertrain: 'combustion', systemV: 12 },
    battery: { chemistry: 'flooded', capacityAh: 70 },
    log: {
      files: [],
      skipRows: 0,
      columns: { time: { name: 't' }, voltage: { name: 'v', unit: 'V' } },
      channels: [],
    },
    limits: {},
    install: {},
    notes: [
      { atMs: (START_S + 24.5 * HOUR_S) * 1000, text: 'Locked with the remote, bonnet closed' },
      { atMs: (START_S + 70 * HOUR_S) * 1000, text: 'Looked in' },
    ],
    photos: [
      { file: 'photos/sensor.jpg', atMs: (START_S + 24.6 * HOUR_S) * 1000, atFrom: 'camera' },
      { file: 'photos/display.jpg', atMs: (START_S + 24.7 * HOUR_S) * 1000, atFrom: 'manifest', text: 'Display' },
    ],
  };
}

function madeUpFindings(): readonly Finding[] {
  const practice = 'common practice, no source';
  return [
    {
      check: 'parked-draw',
      status: 'undecided',
      reason: 'near-limit',
      cautions: [],
      measured: { value: 0.047, unit: 'A', uncertainty: 0.006 },
      limit: { value: 0.05, unit: 'A', source: practice },
    },
    {
      check: 'sleep-time',
      status: 'fault',
      cautions: [],
      measured: { value: 5040, unit: 's', uncertainty: 30 },
      limit: { value: 2700, unit: 's', source: practice },
    },
    {
      check: 'stand-time',
      status: 'watch',
      cautions: [],
      measured: { value: 17 * 86_400, unit: 's', uncertainty: 6 * 86_400 },
      limit: { value: 14 * 86_400, unit: 's', source: practice },
      facts: {
        lowS: 11 * 86_400,
        highS: 23 * 86_400,
        charge: 0.8,
        chargeU: 0.07,
        capacityAh: 70,
        toLoseLowAh: 20,
        toLoseHighAh: 28,
        drawA: 0.06,
      },
    },
    {
      check: 'crank-voltage',
      status: 'clear',
      cautions: [],
      measured: { value: 9.35, unit: 'V', uncertainty: 0.06 },
      limit: { value: 9.3, unit: 'V', source: 'TM 5-4210-230-14&P-1, Table 5' },
    },
  ];
}
