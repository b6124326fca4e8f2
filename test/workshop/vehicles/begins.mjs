// Logs that begin or end in the middle of something. A drive without its start is a drive with an open end, and no charger.
import {
  asleep,
  cranks,
  drives,
  driving,
  is,
  noCharger,
  not,
  settles,
  sleepKnown,
  sound,
  that,
  totals,
} from '../expect.mjs';
import { STAIRCASE, sleepAfter, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) => new Vehicle({ seed, charge: 0.85, logger: { step: 1 }, ...o });

export default {
  'begins-driving': () => {
    const v = car(701);
    v.drive(37).park(9, { sleepA: 0.016 }).trip(22).park(6, { sleepA: 0.016 });
    return {
      vehicle: v,
      expect: (x) => [
        sound(),
        drives(2),
        driving(x.truth),
        cranks(1),
        noCharger,
        asleep(0.016),
        settles(sleepAfter(STAIRCASE)),
        totals(x),
      ],
    };
  },
  'ends-driving': () => {
    const v = car(702);
    v.park(9, { stair: [], sleepA: 0.016 }).trip(48);
    return {
      vehicle: v,
      expect: (x) => [sound('log-length'), drives(1), driving(x.truth), cranks(1), noCharger, asleep(0.016), totals(x)],
    };
  },
  'begins-and-ends-driving': () => {
    const v = car(703, { logger: { step: 2 } });
    v.drive(24).park(10, { sleepA: 0.019 }).trip(31).park(8, { sleepA: 0.019 }).trip(18);
    return { vehicle: v, expect: (x) => [sound(), drives(3), driving(x.truth), noCharger, asleep(0.019)] };
  },
  // One hour of motorway and nothing else: the engine ran, nothing is known of parking. "The engine never ran" would be false.
  'only-driving': () => {
    const v = car(704);
    v.drive(64);
    return {
      vehicle: v,
      expect: (x) => [
        sound('log-length'),
        noCharger,
        drives(1),
        driving(x.truth),
        is('parked-draw', 'undecided'),
        is('sleep-time', 'undecided'),
        not('charging-low', 'fault'),
      ],
    };
  },
  // Begun while the vehicle settles: that first settling has no known length, the later one has.
  'begins-settling': () => {
    const v = car(705);
    v.park(7, {
      stair: [
        [2.1, 150],
        [0.65, 420],
      ],
      sleepA: 0.014,
    })
      .trip(30)
      .park(9, { sleepA: 0.014 });
    v.truth.parked[0].keyOff = false;
    return {
      vehicle: v,
      expect: (x) => [
        sound(),
        drives(1),
        asleep(0.014),
        settles(sleepAfter(STAIRCASE)),
        sleepKnown(0, null),
        totals(x),
      ],
    };
  },
  // The last stand has just begun when the log ends, awake: not a failure to sleep.
  'ends-settling': () => {
    const v = car(706);
    v.trip(30).park(11, { sleepA: 0.016 }).trip(25).park(0.1);
    return {
      vehicle: v,
      expect: () => [
        sound(),
        drives(2),
        asleep(0.016),
        is('sleep-time', 'clear'),
        that('no held load', (r) => r.findings.find((f) => f.check === 'held-awake').status !== 'fault'),
      ],
    };
  },
};
