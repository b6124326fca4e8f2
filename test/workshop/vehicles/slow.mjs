// Loggers of 10, 30 and 60 s a row. The crank falls between the rows: no start is listed that has no rows, none is needed for a drive,
// a generator's hour is a drive and no charger, and no verdict on cranking is given.
import { asleep, bad, drives, driving, is, noCharger, not, settles, sound, stands, totals } from '../expect.mjs';
import { fixed, repeat, STAIRCASE, sleepAfter, Vehicle } from '../vehicle.mjs';

const plain = (seed, step, o = {}) => new Vehicle({ seed, charge: 0.86, logger: { step }, ...o });
/** A crank of under a second can at best leave one row behind: not enough to judge it by (the plateau after 0.3 s needs three). */
const blind = [is('crank-voltage', 'undecided', 'clear'), not('battery-resistance', 'fault')];
const sane = (v, n, A) => [
  sound(),
  drives(n),
  driving(v.truth, 0.04),
  stands(n),
  noCharger,
  asleep(A),
  is('parked-draw', 'clear'),
  ...blind,
  totals(v, 0.06),
];

export default {
  'slow-10s': () => {
    const v = plain(301, 10);
    repeat(4, (k) => v.trip(25 + 8 * k).park(10, { sleepA: 0.016 }));
    return { vehicle: v, expect: (x) => [...sane(x, 4, 0.016), settles(sleepAfter(STAIRCASE), 40)] };
  },
  'slow-30s': () => {
    const v = plain(302, 30);
    repeat(5, (k) => v.trip(30 + 6 * k).park(12, { sleepA: 0.014 }));
    return { vehicle: v, expect: (x) => [...sane(x, 5, 0.014), settles(sleepAfter(STAIRCASE), 90)] };
  },
  'slow-60s': () => {
    const v = plain(303, 60, { capacityAh: 80 });
    repeat(7, (k) => v.trip(35 + 5 * k).park(14, { sleepA: 0.019 }));
    return { vehicle: v, expect: (x) => [...sane(x, 7, 0.019), settles(sleepAfter(STAIRCASE), 150)] };
  },
  // A lowered voltage while cruising on top of it.
  'slow-30s-smart': () => {
    const v = plain(304, 30, { chemistry: 'agm' });
    const regulator = ({ x, phase }) => (x < 240 ? 14.5 : phase === 'overrun' ? 14.9 : 12.7);
    repeat(4, (k) => v.trip(45 + 10 * k, { regulator, loadA: 8 }).park(12, { sleepA: 0.015 }));
    return {
      vehicle: v,
      expect: (x) => [drives(4), driving(x.truth, 0.05), noCharger, sound(), asleep(0.015), is('parked-draw', 'clear')],
    };
  },
  // A real draw of 240 mA shows at any rate of rows.
  'slow-60s-draw': () => {
    const v = plain(305, 60);
    repeat(4, () => v.trip(50).park(16, { sleepA: 0.24 }));
    return {
      vehicle: v,
      expect: (x) => [
        is('parked-draw', 'fault'),
        asleep(0.24),
        drives(4),
        driving(x.truth, 0.04),
        noCharger,
        bad('stand-time'),
        not('wake-ups', 'fault'),
      ],
    };
  },
  // It needs 2 h 10 min to sleep each time; the allowance is an hour.
  'slow-10s-late-sleep': () => {
    const v = plain(306, 10);
    const stair = [
      [6, 40],
      [2.2, 300],
      [1.4, 7460],
    ];
    repeat(3, () => v.trip(40).park(11, { sleepA: 0.017, stair }));
    return {
      vehicle: v,
      expect: () => [
        is('sleep-time', 'fault'),
        settles(7800, 60),
        asleep(0.017),
        is('parked-draw', 'clear'),
        drives(3),
        noCharger,
      ],
    };
  },
  // Six-minute trips with quarter-hour stands between: each is its own drive.
  'slow-10s-short-trips': () => {
    const v = plain(307, 10, { charge: 0.8 });
    repeat(8, () =>
      v.trip(6.2).park(0.6, {
        sleepA: 0.02,
        stair: [
          [6, 30],
          [1.8, 150],
          [0.6, 200],
        ],
      }),
    );
    v.park(9, { sleepA: 0.02 });
    return {
      vehicle: v,
      expect: (x) => [drives(8), driving(x.truth, 0.06), noCharger, ...blind, not('charging-low', 'fault')],
    };
  },
  // A dead generator: at 30 s a row there is no crank to see, but for an hour ten to fourteen amperes flow out at 12 V and falling.
  'slow-30s-dead-generator': () => {
    const v = plain(308, 30, { charge: 0.9, capacityAh: 80 });
    repeat(2, () => v.trip(55, { regulator: () => null, loadA: 11 }).park(8, { sleepA: 0.018 }));
    return {
      vehicle: v,
      expect: () => [
        not('charge-balance', 'clear'),
        not('charging-low', 'clear'),
        noCharger,
        is('parked-draw', 'clear'),
      ],
    };
  },
  // A regulator 14.3 V with 1 % of gain error of the sensor and a 20 s step, an odd one.
  'slow-20s-warm': () => {
    const v = plain(309, 20, { climate: { meanC: 30, swingC: 5 }, logger: { step: 20, gain: 1.008 } });
    repeat(4, () => v.trip(33, { regulator: fixed(14.3) }).park(9, { sleepA: 0.022 }));
    return { vehicle: v, expect: (x) => sane(x, 4, 0.022) };
  },
};
