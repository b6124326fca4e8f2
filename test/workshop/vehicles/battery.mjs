// The battery itself: empty, cold, weak, failed; and joints and straps that only look like it.
import {
  asleep,
  bad,
  cranks,
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
} from '../expect.mjs';
import { fixed, repeat, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) =>
  new Vehicle({ seed, charge: 0.88, logger: { step: 1, adaptive: { fast: 0.05, active: 1, quiet: 10 } }, ...o });
/** Never "a longer drive" for one that does not crank. */
const noDrive = that(
  'no advice to drive it full',
  (r) =>
    !/longer drive|drive (it )?for|long(er)? journey/i.test(
      JSON.stringify([r.summary, r.findings.map((f) => f.next_steps)]),
    ),
  (r) => JSON.stringify(r.summary.until_then),
);

export default {
  // 11.6 V at rest and three clicks of the solenoid (7 A): nothing turns. It is flat; it will not start.
  'only-clicks': () => {
    const v = car(1501, { charge: 0.0, missingVolts: 0.13, capacityAh: 60 });
    v.park(12, { stair: [], sleepA: 0.02 });
    repeat(3, () => v.keyOn(6, 6).crank({ seconds: 0.5, click: true, fails: true }));
    v.park(9, { sleepA: 0.02 });
    return {
      vehicle: v,
      manifest: { concern: 'Only clicks' },
      expect: () => [
        is('resting-charge', 'fault'),
        bad('deep-discharge'),
        notAllClear,
        noDrive,
        not('stand-time', 'clear'),
        drives(0),
        is('parked-draw', 'clear'),
        that(
          'it does not say that it may still start',
          (r) => !/may still start/i.test(JSON.stringify(r)),
          () => 'may still start',
        ),
      ],
    };
  },
  // Four healthy drives at 14.2 V, then a cell shorts: 10.6 V at rest for a day after a drive that charged as always.
  'dead-cell': () => {
    const v = car(1502);
    repeat(4, () => v.trip(40, { regulator: fixed(14.2) }).park(8, { sleepA: 0.016 }));
    v.cells = 2.05;
    v.slow.surface = 0;
    v.park(22, { stair: [], sleepA: 0.016 });
    v.truth.parked.pop();
    return {
      vehicle: v,
      expect: () => [
        notAllClear,
        not('resting-charge', 'clear'),
        not('deep-discharge', 'clear'),
        not('stand-time', 'clear'),
        says('speaks of a cell', /\bcell\b/i, 'resting-charge', 'deep-discharge', 'stand-time', 'battery-resistance'),
      ],
    };
  },
  // It leaks 0.34 A inside, which no sensor sees: charged by every drive, its rest falls 0.35 V in three and a half days at 14 mA.
  'does-not-hold': () => {
    const v = car(1503, { leakA: 0.34, charge: 0.75 });
    repeat(4, () => v.trip(75, { amps: 70 }).park(3, { sleepA: 0.014 }));
    v.park(84, { stair: [], sleepA: 0.014 });
    v.truth.parked.splice(-2, 1);
    return {
      vehicle: v,
      expect: () => [
        not('resting-charge', 'clear'),
        not('stand-time', 'clear'),
        is('parked-draw', 'clear'),
        notAllClear,
        says('does not hold its charge', /hold|keep.* charge|self-discharge|loses/i),
      ],
    };
  },
  // −20 °C and a fifth of its charge: acid at 25 % freezes at −15 °C (TM 5-3820-256-24-4). Doubt is a warning here.
  'cold-empty': () => {
    const v = car(1504, { charge: 0.2, climate: { meanC: -20, swingC: 2 } });
    v.park(26, { stair: [], sleepA: 0.018 });
    return {
      vehicle: v,
      expect: () => [
        bad('freeze-risk'),
        bad('resting-charge'),
        notAllClear,
        that(
          'it warns not to charge a frozen one',
          (r) => finding(r, 'freeze-risk').cautions.length > 0,
          (r) => finding(r, 'freeze-risk').cautions.join(),
        ),
        drives(0),
      ],
    };
  },
  // −7 °C and empty: empty freezes at −9.4 °C, extremely discharged near 0 to −3 °C. A warning as well.
  'frost-empty': () => {
    const v = car(1505, { charge: 0.02, climate: { meanC: -8, swingC: 3 } });
    v.park(20, { stair: [], sleepA: 0.018 });
    return { vehicle: v, expect: () => [bad('freeze-risk'), is('resting-charge', 'fault'), notAllClear] };
  },
  // −24 °C and full: freezes below −50 °C. No alarm.
  'cold-full': () => {
    const v = car(1506, { charge: 0.97, climate: { meanC: -24, swingC: 2 }, surface: 0 });
    v.park(40, { stair: [], sleepA: 0.015 });
    return {
      vehicle: v,
      expect: () => [
        not('freeze-risk', 'fault'),
        is('parked-draw', 'clear'),
        not('resting-charge', 'fault'),
        not('deep-discharge', 'fault'),
      ],
    };
  },
  // 21 mΩ where about 4 are sound: the plateau sinks below 9 V at 15 °C, inrush left out.
  'weak-cranks': () => {
    const v = car(1507, { milliohm: 21, charge: 0.9 });
    v.park(6, { stair: [] });
    repeat(4, () => v.trip(35, { crank: { seconds: 1.8 } }).park(6));
    return {
      vehicle: v,
      expect: (x) => [
        is('crank-voltage', 'fault'),
        cranks(4),
        drives(4),
        driving(x.truth),
        notAllClear,
        near('resistance', x.truth.cranks[0] ? v.r0 * 1.1 : 0, 0.005, (r) => r.cranks[0]?.resistance_ohm),
        bad('battery-resistance'),
      ],
    };
  },
  // Six starts at one temperature, the resistance from 4 to 15 mΩ.
  'resistance-rises': () => {
    const v = car(1508, { climate: { meanC: 18, swingC: 0.5 }, engineHeatC: 0 });
    v.park(3, { stair: [] });
    repeat(6, (k) => {
      v.r0 = 0.0042 + 0.0022 * k;
      v.trip(30, { crank: { seconds: 1.5 } }).park(5);
    });
    return { vehicle: v, expect: () => [bad('battery-resistance'), cranks(6), drives(6), notAllClear] };
  },
  // A worn battery, a fifth below its label (5.4 mΩ where 4.2 mΩ give 640 A): it cranks at more than 10.5 V, nobody replaces it.
  'worn-sound': () => {
    const v = car(1509, { milliohm: 5.4, climate: { meanC: 20, swingC: 2 }, charge: 0.92 });
    v.park(4, { stair: [] });
    repeat(3, () => v.trip(40, { crank: { seconds: 1.2 } }).park(8));
    return {
      vehicle: v,
      expect: () => [
        is('crank-voltage', 'clear'),
        not('battery-resistance', 'fault'),
        sound('battery-resistance'),
        cranks(3),
        drives(3),
      ],
    };
  },
  // 5 mΩ more in the starter cable: 0.9 V across it while cranking. At the posts the voltage is higher, not lower, than usual.
  'joint-beyond-posts': () => {
    const v = car(1510);
    v.park(2, { stair: [] });
    repeat(4, () => v.trip(30, { crank: { seconds: 1.6, turningOhm: 0.063, stalledOhm: 0.02 } }).park(5));
    return {
      vehicle: v,
      format: { circuits: 1, across: [(A) => Math.max(0, -A * 0.0055)] },
      manifest: { labels: ['Engine ground strap'] },
      expect: () => [
        bad('circuit-drop'),
        is('crank-voltage', 'clear'),
        notAllClear,
        cranks(4),
        that(
          'the posts do not follow from the joint',
          (r) => finding(r, 'crank-voltage').follows !== 'circuit-drop',
          (r) => finding(r, 'crank-voltage').follows,
        ),
      ],
    };
  },
  // A second ground strap: the starter's current goes round the sensor. The voltage shows the starts.
  'second-strap': () => {
    const v = car(1511);
    v.park(2, { stair: [] });
    repeat(4, () => v.trip(30, { crank: { seconds: 1.5 } }).park(5, { sleepA: 0.019 }));
    return {
      vehicle: v,
      format: { bypass: true },
      expect: () => [
        is('current-path', 'fault'),
        cranks(4),
        notAllClear,
        drives(4),
        not('battery-resistance', 'fault'),
        that(
          'no current is told of these starts',
          (r) => r.cranks.every((c) => c.resistance_ohm === null),
          (r) => JSON.stringify(r.cranks[0]),
        ),
      ],
    };
  },
  // 11.83 V asleep for four days: nearly empty, and that long it sulphates.
  'days-at-11v8': () => {
    const v = car(1512, { charge: 0.12, logger: { step: 20 } });
    v.park(96, { stair: [], sleepA: 0.012 });
    return {
      vehicle: v,
      expect: () => [
        is('resting-charge', 'fault'),
        bad('deep-discharge'),
        notAllClear,
        is('parked-draw', 'clear'),
        asleep(0.012),
        not('stand-time', 'clear'),
        noDrive,
      ],
    };
  },
  // Lithium run down to 12.0 V at rest: below a tenth of its charge.
  'lfp-low': () => {
    const v = car(1513, { chemistry: 'lfp', capacityAh: 100, milliohm: 2, charge: 0.03 });
    v.park(30, { stair: [], sleepA: 0.05 });
    return {
      vehicle: v,
      manifest: { coldCranking: null, limit: '60 mA' },
      expect: () => [
        not('resting-charge', 'clear'),
        notAllClear,
        not('stand-time', 'clear'),
        not('parked-draw', 'fault'),
      ],
    };
  },
};
