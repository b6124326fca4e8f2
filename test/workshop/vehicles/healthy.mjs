// Sound vehicles of each kind: whatever the log is like, no check may accuse one, and the plain figures must come out.
import {
  asleep,
  cranks,
  drives,
  driving,
  is,
  longest,
  near,
  noCharger,
  not,
  plainAnswer,
  settles,
  sound,
  that,
  totals,
  wakes,
} from '../expect.mjs';
import { every, fixed, repeat, STAIRCASE, sleepAfter, Vehicle } from '../vehicle.mjs';

const ADAPTIVE = { adaptive: { fast: 0.05, active: 1, quiet: 10 }, step: 1 };
const baseline = { purpose: 'baseline', concern: 'None' };
/** What a technician insists on for a sound vehicle whose stands last a night. */
const fine = (A, n) => (v) => [
  sound(),
  is('parked-draw', 'clear'),
  is('sleep-time', 'clear'),
  asleep(A),
  drives(n),
  driving(v.truth),
  totals(v),
  noCharger,
  plainAnswer,
  not('charging-low', 'watch'),
  not('charging-high', 'watch'),
  not('deep-discharge', 'watch'),
  not('freeze-risk', 'watch'),
  not('held-awake', 'watch'),
  not('battery-resistance', 'watch'),
];

export default {
  // Two commuting days; a little below the usual 10 to 20 mA asleep.
  'petrol-commuter': () => {
    const v = new Vehicle({ seed: 101, logger: ADAPTIVE, capacityAh: 60, charge: 0.9 });
    repeat(4, (k) => v.trip(28 + 4 * k).park(k % 2 ? 13 : 9, { sleepA: 0.0125 }));
    return {
      vehicle: v,
      manifest: { ...baseline },
      expect: (x) => [
        ...fine(0.0125, 4)(x),
        cranks(4),
        settles(sleepAfter(STAIRCASE)),
        wakes(0, 1),
        is('crank-voltage', 'clear', 'undecided'),
      ],
    };
  },
  // Glow plugs take 30 A before the start and again after it; the key-on is not a start.
  'diesel-glow': () => {
    const v = new Vehicle({
      seed: 102,
      logger: ADAPTIVE,
      capacityAh: 80,
      charge: 0.86,
      climate: { meanC: 3, swingC: 3 },
    });
    repeat(3, (k) => v.trip(35 + 9 * k, { keyS: 6, keyA: 34 }).park(11, { sleepA: 0.019 }));
    return { vehicle: v, manifest: { ...baseline }, expect: (x) => [...fine(0.019, 3)(x), cranks(3)] };
  },
  // 24 V: everything twice; tachograph and parking heater control make 60 mA asleep, the maker allows 100 mA.
  'truck-24v': () => {
    const v = new Vehicle({ seed: 103, volts: 24, capacityAh: 180, milliohm: 3.5, logger: ADAPTIVE, charge: 0.85 });
    repeat(3, (k) =>
      v.trip(110 + 30 * k, { loadA: 22, amps: 100, regulator: fixed(14.1) }).park(10, {
        sleepA: 0.061,
        stair: [
          [5, 60],
          [1.6, 420],
          [0.5, 300],
        ],
      }),
    );
    return {
      vehicle: v,
      manifest: { ...baseline, limit: '100 mA', coldCranking: 800 },
      expect: (x) => [...fine(0.061, 3)(x), cranks(3)],
    };
  },
  // A hybrid: the engine is started by the traction battery, the converter holds 14.0 V while ready; no crank ever.
  hybrid: () => {
    const v = new Vehicle({ seed: 104, chemistry: 'agm', capacityAh: 45, charge: 0.87, logger: ADAPTIVE });
    repeat(4, (k) =>
      v
        .trip(24 + 6 * k, { crank: false, regulator: fixed(14.0, 0), ripple: 0.005, loadA: 20, amps: 120 })
        .park(8, { sleepA: 0.014 }),
    );
    return {
      vehicle: v,
      manifest: { ...baseline, powertrain: 'hybrid', coldCranking: 400 },
      expect: (x) => [...fine(0.014, 4)(x), cranks(0)],
    };
  },
  // An electric car: its converter tops the battery up for 40 min every 7 h while parked. That is its own converter, neither an outside
  // charger nor a drive, and no fault (common practice, no source).
  'electric-topups': () => {
    const v = new Vehicle({ seed: 105, chemistry: 'agm', capacityAh: 50, charge: 0.85, logger: ADAPTIVE });
    repeat(2, () => {
      v.trip(32, { crank: false, regulator: fixed(14.2, 0), ripple: 0.004, loadA: 15, amps: 150 });
      v.park(30, {
        sleepA: 0.021,
        feeds: every(7 * 3600, 7 * 3600, 2400, 0, 30).map((w) => ({ at: w.at, seconds: 2400, volts: 14.0, amps: 25 })),
      });
    });
    return {
      vehicle: v,
      manifest: { ...baseline, powertrain: 'electric', coldCranking: null },
      expect: (x) =>
        [
          sound(),
          drives(2),
          cranks(0),
          driving(x.truth),
          asleep(0.021),
          is('parked-draw', 'clear'),
          plainAnswer,
          totals(x),
          that(
            'eight top-ups told',
            (r) => r.portrait?.top_ups?.count === 8,
            (r) => JSON.stringify(r.portrait?.top_ups),
          ),
        ].map((e) => (Array.isArray(e) || !/top-ups/.test(e.what) ? e : { ...e, later: true })),
    };
  },
  // A motorcycle with lithium iron phosphate: rests at 13.3 V, charges at 14.2 V; nothing in that is a charger or an overcharge.
  'lfp-motorcycle': () => {
    const v = new Vehicle({ seed: 106, chemistry: 'lfp', capacityAh: 12, milliohm: 7, charge: 0.9, logger: ADAPTIVE });
    repeat(3, (k) =>
      v
        .trip(40 + 10 * k, { regulator: fixed(14.2, 0), loadA: 8, amps: 28, crank: { seconds: 0.6, turningOhm: 0.09 } })
        .park(14, {
          sleepA: 0.004,
          stair: [
            [1.2, 20],
            [0.08, 60],
          ],
        }),
    );
    return {
      vehicle: v,
      manifest: { ...baseline, limit: '10 mA', coldCranking: null, aAccuracy: '1 % + 1 mA' },
      expect: (x) => [
        sound(),
        is('parked-draw', 'clear'),
        asleep(0.004, 0.001),
        drives(3),
        cranks(3),
        driving(x.truth),
        noCharger,
        plainAnswer,
        not('charging-high', 'watch'),
      ],
    };
  },
  // Winter, AGM, −12 °C and well charged: cold pulls the cranking voltage down, and that is not the battery's fault.
  'winter-agm': () => {
    const v = new Vehicle({
      seed: 107,
      chemistry: 'agm',
      capacityAh: 80,
      milliohm: 3.4,
      charge: 0.9,
      climate: { meanC: -12, swingC: 3 },
      engineHeatC: 4,
      logger: ADAPTIVE,
    });
    repeat(3, () =>
      v.trip(45, { crank: { seconds: 1.6 }, loadA: 30, regulator: fixed(14.4, -0.012) }).park(10, { sleepA: 0.016 }),
    );
    return {
      vehicle: v,
      manifest: { ...baseline, coldCranking: 800 },
      expect: (x) => [...fine(0.016, 3)(x), cranks(3), not('crank-voltage', 'fault')],
    };
  },
  // A clock that wakes it every two hours for 40 s at 0.8 A costs 4 mA: seen, and no fault.
  'quiet-clock': () => {
    const v = new Vehicle({ seed: 108, logger: ADAPTIVE, charge: 0.88 });
    repeat(2, () => v.trip(40).park(20, { sleepA: 0.013, wakes: every(4000, 7200, 40, 0.8, 20) }));
    return {
      vehicle: v,
      manifest: { ...baseline },
      expect: (x) => [
        ...fine(0.013, 2)(x),
        wakes(x.truth.wakes.length),
        near('wakes of a stand', x.truth.wakes.length / 2, 0, (r) => longest(r)?.wakes),
        not('wake-ups', 'watch'),
      ],
    };
  },
};
