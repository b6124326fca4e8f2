// Charging that saves fuel: the voltage is lowered on purpose while cruising and raised on the overrun. A regulator may command 12.0 to
// 14.8 V (a vehicle maker's service data). Every one of these is sound: one drive is one drive, the generator's own pauses are neither
// a charger nor a stand, and "low" is judged by the charge that comes back (common practice, no source).
import { asleep, cranks, drives, driving, is, net, noCharger, not, sound, stands, that } from '../expect.mjs';
import { repeat, Vehicle } from '../vehicle.mjs';

const ADAPTIVE = { adaptive: { fast: 0.05, active: 1, quiet: 10 }, step: 1 };
const sane =
  (A, n, more = []) =>
  (v) => [
    drives(n),
    driving(v.truth),
    stands(n),
    noCharger,
    sound(),
    not('charging-low', 'watch'),
    not('charging-high', 'watch'),
    asleep(A),
    net(v),
    is('parked-draw', 'clear'),
    ...more,
  ];
const expect = { drives: sane };
const make = (o, script, A, n, more, format) => () => {
  const v = new Vehicle({ chemistry: 'agm', capacityAh: 70, charge: 0.82, logger: ADAPTIVE, engineHeatC: 5, ...o });
  script(v);
  return { vehicle: v, manifest: { purpose: 'baseline', concern: 'None' }, format, expect: expect.drives(A, n, more) };
};

/** High for the first minutes, then almost passive while cruising, 15.0 V on the overrun, off when pulling; below `floor` of its charge it
 * charges as of old: a sound vehicle does not let it sink. */
const harvest =
  (firstS, cruiseV, overV = 15.0, floor = 0.81) =>
  ({ x, phase, charge, T }) => {
    if (x < firstS || charge < floor) return 14.5 - 0.01 * (T - 20);
    return phase === 'overrun' ? overV : phase === 'pull' ? null : cruiseV;
  };
/** Holds a charge: gives what the battery lacks to `target`, otherwise the voltage at which hardly any current flows. */
const keep =
  (target, floatV) =>
  ({ charge, phase, T }) =>
    phase === 'overrun' ? 14.9 : charge < target ? 14.4 - 0.01 * (T - 20) : floatV;
/** Minutes at a low command, then minutes of charging, like a clock. */
const cycle =
  (lowS, lowV, highS, highV, firstS = 60) =>
  ({ x }) =>
    x < firstS ? 14.3 : (x - firstS) % (lowS + highS) < lowS ? lowV : highV;

/** Charges first; then leaves `amps` of the consumers to the battery, and charges at 15.0 V on every overrun. */
const sip =
  (amps, firstS, floor = 0.81) =>
  ({ x, phase, charge, r }) =>
    x < firstS || charge < floor ? 14.5 : phase === 'overrun' ? 15.0 : { battery: amps + 0.6 * r.n() };

export default {
  'harvest-12v5': make(
    { seed: 201 },
    (v) => repeat(3, () => v.trip(48, { regulator: harvest(240, 12.5), loadA: 9 }).park(10, { sleepA: 0.015 })),
    0.015,
    3,
    [cranks(3)],
  ),
  'harvest-long': make(
    { seed: 202, charge: 0.86 },
    (v) => repeat(2, () => v.trip(140, { regulator: harvest(120, 12.7, 15.1), loadA: 8 }).park(12, { sleepA: 0.011 })),
    0.011,
    2,
    [cranks(2)],
  ),
  'keep-80': make(
    { seed: 203, charge: 0.8 },
    (v) => repeat(4, () => v.trip(35, { regulator: keep(0.81, 12.9), loadA: 14 }).park(8, { sleepA: 0.018 })),
    0.018,
    4,
    [cranks(4)],
  ),
  // Full, it is held at 13.0 V with hardly any current either way.
  'keep-full': make(
    { seed: 204, charge: 0.97 },
    (v) => repeat(3, () => v.trip(55, { regulator: keep(0.96, 13.0), loadA: 18 }).park(9, { sleepA: 0.013 })),
    0.013,
    3,
    [cranks(3)],
  ),
  // 90 s off at −7 A and more, 60 s at 14.9 V, for an hour.
  'cycle-150s': make(
    { seed: 205 },
    (v) => repeat(3, () => v.trip(60, { regulator: cycle(90, 12.2, 60, 14.9), loadA: 7 }).park(9, { sleepA: 0.017 })),
    0.017,
    3,
    [cranks(3)],
  ),
  'cycle-30s': make(
    { seed: 206 },
    (v) => repeat(3, () => v.trip(33, { regulator: cycle(30, 12.4, 30, 14.7), loadA: 6 }).park(9, { sleepA: 0.02 })),
    0.02,
    3,
    [cranks(3)],
  ),
  // Ten minutes lowered, six minutes charging: the drive is whole all the same.
  'cycle-16min': make(
    { seed: 207 },
    (v) =>
      repeat(2, () =>
        v.trip(95, { regulator: cycle(600, 12.1, 360, 14.8, 180), loadA: 9 }).park(11, { sleepA: 0.016 }),
      ),
    0.016,
    2,
    [cranks(2)],
  ),
  // 12.1 V commanded for 40 min of motorway, recharged in the last 25 min: sound, whatever the median voltage.
  'command-12v1': make(
    { seed: 208, charge: 0.88 },
    (v) =>
      repeat(3, () =>
        v
          .trip(75, { regulator: ({ x }) => (x < 300 ? 14.2 : x < 2900 ? 12.1 : 14.6), loadA: 7 })
          .park(9, { sleepA: 0.014 }),
      ),
    0.014,
    3,
    [cranks(3)],
  ),
  // Stop and go with the engine stopped at lights: 12.2 V and 22 A out for up to a minute, then a short crank; one drive each.
  'stop-start': make(
    { seed: 209, milliohm: 4 },
    (v) =>
      repeat(2, () =>
        v
          .trip(36, { regulator: keep(0.83, 13.1), loadA: 15, stops: { everyS: [90, 260], lastS: [12, 55] } })
          .park(10, { sleepA: 0.015 }),
      ),
    0.015,
    2,
    [
      that(
        'two starts at least, and no more than all restarts',
        (r) => r.cranks.length >= 2,
        (r) => r.cranks.length,
      ),
    ],
  ),
  // A hybrid whose converter steps between 12.8 and 14.5 V by charge; no crank.
  'hybrid-steps': make(
    { seed: 210, charge: 0.85 },
    (v) =>
      repeat(3, () =>
        v
          .trip(42, {
            crank: false,
            regulator: ({ x, charge }) => (x < 200 || charge < 0.86 ? 14.5 : 12.85),
            ripple: 0.004,
            loadA: 16,
            amps: 140,
          })
          .park(9, { sleepA: 0.016 }),
      ),
    0.016,
    3,
    [cranks(0)],
  ),
  // The same harvest read by a plain logger, a row each second.
  'harvest-1hz': make(
    { seed: 211, logger: { step: 1 } },
    (v) => repeat(2, () => v.trip(45, { regulator: harvest(200, 12.6), loadA: 10 }).park(7, { sleepA: 0.015 })),
    0.015,
    2,
  ),
  // The generator carries nearly everything: 2 to 5 A out of the battery at 12.4 to 12.7 V for minutes, then 15.0 V on the overrun.
  'sips-overrun': make(
    { seed: 212 },
    (v) => repeat(3, () => v.trip(50, { regulator: sip(-3.2, 70), loadA: 14 }).park(10, { sleepA: 0.016 })),
    0.016,
    3,
    [cranks(3)],
  ),
  // An hour of motorway at −2.4 A without one overrun, charged only before and after.
  'sips-motorway': make(
    { seed: 213, charge: 0.88 },
    (v) =>
      repeat(2, () =>
        v
          .trip(85, {
            regulator: ({ x, r }) => (x < 420 || x > 4500 ? 14.4 : { battery: -2.4 + 0.5 * r.n() }),
            loadA: 16,
          })
          .park(11, { sleepA: 0.014 }),
      ),
    0.014,
    2,
    [cranks(2)],
  ),
  // It steers the battery's current round nothing: ±1 A at 12.8 V for most of the drive.
  'swings-round-zero': make(
    { seed: 214, charge: 0.84 },
    (v) =>
      repeat(3, () =>
        v
          .trip(45, { regulator: ({ x, r }) => (x < 300 ? 14.5 : { battery: r.n() }), loadA: 18 })
          .park(9, { sleepA: 0.018 }),
      ),
    0.018,
    3,
    [cranks(3)],
  ),
  // The same sips and overruns at a row each 10 s.
  'sips-10s': make(
    { seed: 215, logger: { step: 10 } },
    (v) => repeat(4, () => v.trip(40, { regulator: sip(-4.5, 60), loadA: 15 }).park(10, { sleepA: 0.015 })),
    0.015,
    4,
  ),
  // A flooded battery at a row each second, −4 A for four minutes, then 14.9 V for one.
  'sips-long-1hz': make(
    { seed: 216, chemistry: 'flooded', logger: { step: 1 } },
    (v) =>
      repeat(2, () =>
        v
          .trip(55, { regulator: ({ x, r }) => (x < 90 || x % 300 > 240 ? 14.9 : { battery: -4 + r.n() }), loadA: 20 })
          .park(8, { sleepA: 0.019 }),
      ),
    0.019,
    2,
    [cranks(2)],
  ),
};
