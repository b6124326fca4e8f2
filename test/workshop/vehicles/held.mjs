// Loads that stay: at some stands of many, from the middle of a stand, until before its end. Each ampere-hour has its place, and a
// vehicle that sleeps at 15 mA on most stands and burns half an ampere on some is not in order.
import { asleep, bad, drives, finding, held, is, not, notAllClear, plainAnswer, says, that } from '../expect.mjs';
import { repeat, STAIRCASE, sleepAfter, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) =>
  new Vehicle({ seed, charge: 0.9, logger: { step: 2, adaptive: { fast: 0.05, active: 1, quiet: 15 } }, ...o });
const SLEEP = sleepAfter(STAIRCASE);
/** Something must be said of the load in a check that is asked of it: not one of them may be all clear. */
const told = that(
  'one of sleep-time, held-awake, parked-draw, wake-ups names it',
  (r) =>
    ['sleep-time', 'held-awake', 'parked-draw', 'wake-ups'].some((c) =>
      ['fault', 'watch'].includes(finding(r, c).status),
    ),
  (r) => ['sleep-time', 'held-awake', 'parked-draw', 'wake-ups'].map((c) => `${c} ${finding(r, c).status}`).join(', '),
);
/** "Never awake for longer than 0 s" or "the vehicle never slept" exclude what the other stands show. */
const noNonsense = that(
  'no 0 s awake beside a load of hours',
  (r) => !/longer than 0 s|awake for 0 s/.test(JSON.stringify(r.findings)),
  (r) => finding(r, 'held-awake').title,
);

export default {
  // A relay that sticks on 2 of 7 stands: 520 mA from key-off to key-on.
  'stuck-some': () => {
    const v = car(801);
    repeat(7, (k) =>
      v
        .trip(35)
        .park(8, { sleepA: 0.015, held: k === 2 || k === 5 ? [{ at: SLEEP, seconds: 9 * 3600, A: 0.52, on: 2 }] : [] }),
    );
    return {
      vehicle: v,
      format: { circuits: 2 },
      manifest: { labels: ['Ignition', 'Blower relay'] },
      expect: (x) => [
        drives(7),
        told,
        notAllClear,
        noNonsense,
        not('held-awake', 'clear'),
        not('stand-time', 'clear'),
        held(x),
        that(
          'two stands without sleep, five with',
          (r) => r.parked.filter((p) => p.time_to_sleep_s !== null && p.time_to_sleep_s < 1200).length === 5,
          (r) => r.parked.map((p) => p.time_to_sleep_s).join(),
        ),
      ],
    };
  },
  // On all stands but one.
  'stuck-most': () => {
    const v = car(802);
    repeat(5, (k) =>
      v.trip(35).park(8, { sleepA: 0.017, held: k === 3 ? [] : [{ at: SLEEP, seconds: 9 * 3600, A: 0.37 }] }),
    );
    return {
      vehicle: v,
      expect: (x) => [drives(5), told, notAllClear, noNonsense, not('stand-time', 'clear'), held(x)],
    };
  },
  // It begins three hours into the stand and stays until the key: 0.31 A for 15 h of a weekend.
  'from-mid-stand': () => {
    const v = car(803);
    v.trip(40)
      .park(10, { sleepA: 0.014 })
      .trip(40)
      .park(18, { sleepA: 0.014, held: [{ at: 3 * 3600, seconds: 15 * 3600, A: 0.31, on: 2 }] })
      .trip(40)
      .park(9, { sleepA: 0.014 });
    return {
      vehicle: v,
      format: { circuits: 2 },
      expect: (x) => [
        drives(3),
        told,
        notAllClear,
        noNonsense,
        not('held-awake', 'clear'),
        not('stand-time', 'clear'),
        held(x),
        is('circuit-link', 'fault', 'watch', 'undecided'),
      ],
    };
  },
  // 0.42 A for 26 h after key-off, then the vehicle's own cut-off at last: asleep at 20 mA.
  'ends-before-key': () => {
    const v = car(804, { capacityAh: 80 });
    v.trip(60)
      .park(38, { sleepA: 0.02, held: [{ at: SLEEP, seconds: 26 * 3600, A: 0.42 }] })
      .trip(30)
      .park(5, { sleepA: 0.02 });
    return { vehicle: v, expect: (x) => [told, bad('sleep-time'), notAllClear, noNonsense, held(x), asleep(0.02)] };
  },
  // A wake that does not end: it wakes after five hours and stays at 2.4 A for four.
  'wake-stays': () => {
    const v = car(805);
    repeat(2, (k) =>
      v.trip(50).park(14, { sleepA: 0.016, held: k ? [{ at: 5 * 3600, seconds: 4 * 3600, A: 2.4 }] : [] }),
    );
    return {
      vehicle: v,
      expect: (x) => [bad('held-awake'), notAllClear, held(x), drives(2), is('parked-draw', 'clear', 'undecided')],
    };
  },
  // 18 mA that creep to 150 mA over three days: a mean hides where it goes.
  creeping: () => {
    const v = car(806, { capacityAh: 80 });
    v.trip(45)
      .park(72, { sleepA: ({ x }) => 0.018 + 0.132 * Math.min(1, x / 259200) })
      .trip(20)
      .park(3, { sleepA: 0.15 });
    return {
      vehicle: v,
      expect: () => [
        not('parked-draw', 'clear'),
        notAllClear,
        says('says that it rises', /ris|creep|grow|increas|climb|higher/i),
      ],
    };
  },
  // It depends on warmth: 15 mA by night, 140 mA when a box in the sun passes 24 °C.
  'with-warmth': () => {
    const v = car(807, { climate: { meanC: 20, swingC: 9 } });
    v.trip(45)
      .park(70, { sleepA: ({ T }) => 0.015 + 0.125 / (1 + Math.exp(-(T - 24) * 1.5)) })
      .trip(20)
      .park(3, { sleepA: 0.015 });
    return {
      vehicle: v,
      expect: () => [
        notAllClear,
        told,
        says(
          'names warmth or time of day',
          /temperature|warm|heat|°C|time of day|afternoon|hour of (the )?day/i,
          'parked-draw',
          'wake-ups',
          'held-awake',
        ),
      ],
    };
  },
  // From six to ten every evening 0.9 A (a garden light on the trailer socket): four evenings alike.
  'by-the-clock': () => {
    const v = car(808, { capacityAh: 80, begin: '2026-03-03T12:00:00Z' });
    v.trip(45)
      .park(96, { sleepA: ({ hour }) => (hour >= 18 && hour < 22 ? 0.92 : 0.017) })
      .trip(40)
      .park(2);
    return {
      vehicle: v,
      expect: () => [
        told,
        notAllClear,
        not('stand-time', 'clear'),
        that(
          'the mean is not called asleep draw',
          (r) => {
            const d = r.parked.find((p) => Date.parse(p.end) - Date.parse(p.start) > 9e7)?.sleep_draw_a;
            return d === null || d < 0.03;
          },
          (r) => r.parked.map((p) => p.sleep_draw_a).join(),
        ),
      ],
    };
  },
  // Two hours of parking heater's after-run at 1.5 A once: it costs 3 Ah, which is told somewhere, and the rest is sound.
  'once-only': () => {
    const v = car(809);
    repeat(3, (k) =>
      v.trip(55).park(11, { sleepA: 0.013, held: k === 1 ? [{ at: SLEEP, seconds: 7200, A: 1.5 }] : [] }),
    );
    return { vehicle: v, expect: (x) => [told, held(x), plainAnswer, is('parked-draw', 'clear'), drives(3)] };
  },
};
