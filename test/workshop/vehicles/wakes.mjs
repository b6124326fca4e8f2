// What wakes it: one, two and three sources, clocks and chance, circuits that go with it and circuits that do not.
import {
  asleep,
  bad,
  drives,
  driving,
  finding,
  is,
  near,
  not,
  notAllClear,
  says,
  sound,
  that,
  totals,
  wakes,
} from '../expect.mjs';
import { every, random, repeat, STAIRCASE, sleepAfter, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) =>
  new Vehicle({
    seed,
    charge: 0.9,
    capacityAh: 80,
    logger: { step: 1, adaptive: { fast: 0.05, active: 1, quiet: 15 } },
    ...o,
  });
/** A source with its own clock and current is told: within a tenth of current and three in a hundred of clock. */
const source = (A, period) =>
  that(
    `a source of ${A} A each ${period} s`,
    (r) =>
      r.wake_patterns.some(
        (p) =>
          Math.abs(p.mean_a - A) < 0.12 * A && p.period_s !== null && Math.abs(p.period_s - period) < 0.03 * period,
      ),
    (r) => JSON.stringify(r.wake_patterns.map((p) => [p.count, p.mean_a, p.period_s, p.seconds])),
  );
const perDay = (ah, tolerance) =>
  near('Ah a day of the wakes', ah, tolerance, (r) => r.wake_patterns.reduce((sum, p) => sum + p.charge_ah_per_day, 0));
/** Switches on and off by chance, whatever the vehicle does. */
const decoys = (n, hours, on, seed) => {
  const r = random(seed);
  return Array.from({ length: n }, () => ({
    at: 1500 + r.u() * (hours * 3600 - 2500),
    seconds: r.between(20, 140),
    on,
  }));
};
const chance = (label, holds, what) =>
  that(
    what,
    (r) => holds(r.links.find((l) => l.channel.includes(label))?.chance ?? 1),
    (r) => JSON.stringify(r.links),
  );

export default {
  // 0.7 A for 70 s each 25 min, and 3.6 A for 6 min each 2 h 10 min; each fifth or so falls into the other.
  'two-overlap': () => {
    const v = car(1401);
    const list = (h) => [
      ...every(2000, 1500, 70, 0.7, h, { source: 0 }),
      ...every(5030, 7800, 360, 3.6, h, { source: 1 }),
    ];
    v.trip(45)
      .park(22, { sleepA: 0.018, wakes: list(22) })
      .trip(45)
      .park(12, { sleepA: 0.018, wakes: list(12) });
    const day = (86400 / 1500) * 70 * 0.7 + (86400 / 7800) * 360 * 3.6;
    return {
      vehicle: v,
      expect: (x) => [
        source(0.7, 1500),
        source(3.6, 7800),
        perDay(day / 3600, (0.08 * day) / 3600),
        is('parked-draw', 'clear'),
        bad('wake-ups'),
        asleep(0.018),
        drives(2),
        totals(x),
      ],
    };
  },
  'three-sources': () => {
    const v = car(1402);
    const list = (h) => [
      ...every(1800, 1260, 35, 0.45, h),
      ...every(3100, 3900, 150, 1.9, h),
      ...every(9000, 14400, 420, 5.2, h),
    ];
    v.trip(60)
      .park(30, { sleepA: 0.015, wakes: list(30) })
      .trip(40)
      .park(4);
    return {
      vehicle: v,
      expect: () => [
        source(0.45, 1260),
        source(1.9, 3900),
        source(5.2, 14400),
        bad('wake-ups'),
        is('parked-draw', 'clear'),
        notAllClear,
      ],
    };
  },
  // An upload of 2 Ah at ten past one in each of four nights alike: 83 mA on the mean. Four of four nights are no chance.
  'upload-nightly': () => {
    const v = car(1403, { begin: '2026-03-02T16:00:00Z' });
    repeat(4, () =>
      v.trip(42).park(23.3 - 0.0, { sleepA: 0.015, wakes: [{ at: 8.45 * 3600, seconds: 3000, A: 2.4, on: 2 }] }),
    );
    return {
      vehicle: v,
      format: { circuits: 2 },
      manifest: { labels: ['Ignition', 'Modem'] },
      expect: () => [wakes(4), bad('wake-ups'), is('parked-draw', 'clear'), notAllClear, drives(4), perDay(2, 0.15)],
    };
  },
  // A siren wakes it 44 times in one night, for 90 s at 1.6 A.
  'alarm-44': () => {
    const v = car(1404);
    const r = random(9);
    const list = Array.from({ length: 44 }, (_, k) => ({
      at: 2400 + k * 800 + r.between(0, 380),
      seconds: 90,
      A: 1.6,
    }));
    v.trip(40).park(10.6, { sleepA: 0.016, wakes: list }).trip(30).park(3, { sleepA: 0.016 });
    return {
      vehicle: v,
      expect: () => [wakes(44), bad('wake-ups'), is('parked-draw', 'clear'), notAllClear, asleep(0.016)],
    };
  },
  // A key that lies near the car: 5 s at 0.35 A each minute of the night. 30 mA on the mean: within the limit, and seen.
  'key-polls': () => {
    const v = car(1405, { logger: { step: 1 } });
    v.trip(30).park(9, { sleepA: 0.014, wakes: every(1500, 61, 5, 0.35, 9) });
    return {
      vehicle: v,
      expect: (x) => [
        that(
          'all are counted, as pulses in the draw asleep or as wakes',
          (r) =>
            Math.abs(r.wakes.length - x.truth.wakes.length) < 16 ||
            Number(/\((\d+) were seen/.exec(finding(r, 'parked-draw').detail)?.[1]) > 0.97 * x.truth.wakes.length,
          (r) => `${r.wakes.length}; ${finding(r, 'parked-draw').detail}`,
        ),
        not('wake-ups', 'fault'),
        not('parked-draw', 'fault'),
        sound(),
      ],
    };
  },
  // By chance, not by a clock: the count is right, no clock is claimed.
  irregular: () => {
    const v = car(1406);
    const r = random(31);
    let at = 1500;
    const list = [];
    while (at < 19 * 3600) {
      list.push({ at, seconds: 60, A: 1.2 });
      at += 200 - 1900 * Math.log(1 - 0.98 * r.u());
    }
    v.trip(40).park(20, { sleepA: 0.017, wakes: list }).trip(20).park(2, { sleepA: 0.017 });
    return {
      vehicle: v,
      expect: (x) => [
        wakes(x.truth.wakes.length, 1),
        that(
          'no clock claimed',
          (q) => q.wake_patterns.every((p) => p.period_s === null || p.count < x.truth.wakes.length / 2),
          (q) => JSON.stringify(q.wake_patterns),
        ),
        asleep(0.017),
        is('parked-draw', 'clear'),
      ],
    };
  },
  // A fuel system's leak test, 45 min at 1 A five hours after each key-off (a maker's bulletin): known, and no fault.
  'leak-test': () => {
    const v = car(1407);
    repeat(2, () => v.trip(60).park(26, { sleepA: 0.013, wakes: [{ at: 5 * 3600, seconds: 2700, A: 1.0 }] }));
    return {
      vehicle: v,
      expect: () => [
        wakes(2),
        not('held-awake', 'fault'),
        is('parked-draw', 'clear'),
        drives(2),
        near('longest wake', 2700, 60, (r) => Math.max(...r.wakes.map((w) => w.seconds))),
      ],
    };
  },
  // Circuit 3 is on with each wake, circuit 2 switches by chance.
  linked: () => {
    const v = car(1408);
    const list = (h) => every(2600, 2100, 110, 1.3, h, { on: 4 });
    v.trip(35)
      .park(16, { sleepA: 0.019, wakes: list(16), decoys: decoys(25, 16, 2, 3) })
      .trip(30)
      .park(12, { sleepA: 0.019, wakes: list(12), decoys: decoys(19, 12, 2, 4) });
    return {
      vehicle: v,
      format: { circuits: 3 },
      manifest: { labels: ['Ignition', 'Cup heater', 'Tracker feed'] },
      expect: (x) => [
        bad('circuit-link'),
        chance('Tracker feed', (c) => c < 0.001, 'tracker feed is no chance'),
        chance('Cup heater', (c) => c > 0.01, 'cup heater may be chance'),
        bad('wake-ups'),
        wakes(x.truth.wakes.length, 1),
        says('names the tracker feed', /Tracker feed/, 'circuit-link'),
      ],
    };
  },
  // No monitored circuit has to do with the wakes: both switch by chance.
  'decoys-only': () => {
    const v = car(1409);
    const list = (h) => every(2600, 2400, 100, 1.4, h);
    v.trip(35)
      .park(16, { sleepA: 0.019, wakes: list(16), decoys: [...decoys(30, 16, 2, 5), ...decoys(20, 16, 4, 6)] })
      .trip(30)
      .park(12, { sleepA: 0.019, wakes: list(12), decoys: decoys(24, 12, 2, 8) });
    return {
      vehicle: v,
      format: { circuits: 3 },
      expect: () => [not('circuit-link', 'fault'), not('circuit-link', 'watch'), bad('wake-ups')],
    };
  },
  // In two of six stands the draw stays up for 4 h, and so does circuit 2; in the others both go after minutes. Length tells it.
  'follows-length': () => {
    const v = car(1410);
    const at = sleepAfter(STAIRCASE);
    repeat(6, (k) =>
      v.trip(30).park(7, {
        sleepA: 0.017,
        onStair: 3,
        held: k === 1 || k === 4 ? [{ at, seconds: 4 * 3600, A: 1.7, on: 2 }] : [],
      }),
    );
    return {
      vehicle: v,
      format: { circuits: 3 },
      manifest: { labels: ['Ignition', 'Fan relay', 'Courtesy light'] },
      expect: (x) => [
        is('sleep-time', 'fault'),
        not('circuit-link', 'clear'),
        says('names the fan relay', /Fan relay/, 'circuit-link'),
        drives(6),
        driving(x.truth),
        that(
          'two slow settlings',
          (r) => r.parked.filter((p) => p.time_to_sleep_s > 14000 && p.time_to_sleep_s < 16500).length === 2,
          (r) => r.parked.map((p) => p.time_to_sleep_s).join(),
        ),
        notAllClear,
      ],
    };
  },
  // Wakes that cost little beside a draw that is the fault: both are told apart.
  'draw-and-wakes': () => {
    const v = car(1411);
    v.trip(45)
      .park(20, { sleepA: 0.14, wakes: every(3600, 5400, 60, 0.9, 20) })
      .trip(30)
      .park(10, { sleepA: 0.14, wakes: every(3600, 5400, 60, 0.9, 10) });
    return {
      vehicle: v,
      expect: (x) => [
        is('parked-draw', 'fault'),
        asleep(0.14),
        wakes(x.truth.wakes.length),
        source(0.9, 5400),
        that(
          'the draw does not follow from the wakes',
          (r) => finding(r, 'parked-draw').follows === null,
          (r) => finding(r, 'parked-draw').follows,
        ),
      ],
    };
  },
};
