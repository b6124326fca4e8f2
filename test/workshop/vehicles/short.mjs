// Short logs and short trips: what can be said is said. Thirteen quiet hours answer the question of a parasitic draw.
import {
  asleep,
  bad,
  cranks,
  drives,
  driving,
  is,
  noCharger,
  not,
  notAllClear,
  plainAnswer,
  sound,
  stands,
  totals,
} from '../expect.mjs';
import { repeat, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) =>
  new Vehicle({ seed, charge: 0.9, logger: { step: 1, adaptive: { fast: 0.05, active: 1, quiet: 15 } }, ...o });

export default {
  'night-18ma': () => {
    const v = car(1301);
    v.park(13.5, { stair: [], sleepA: 0.018 });
    return {
      vehicle: v,
      expect: () => [
        is('parked-draw', 'clear'),
        plainAnswer,
        asleep(0.018),
        drives(0),
        cranks(0),
        sound('log-length'),
        not('charging-low', 'clear'),
        not('crank-voltage', 'clear'),
        noCharger,
      ],
    };
  },
  'ten-days-12ma': () => {
    const v = car(1302, { logger: { step: 30 }, capacityAh: 80, charge: 0.95 });
    v.park(240, { stair: [], sleepA: 0.012 });
    return {
      vehicle: v,
      expect: () => [
        is('parked-draw', 'clear'),
        plainAnswer,
        asleep(0.012),
        sound(),
        drives(0),
        noCharger,
        is('stand-time', 'clear'),
      ],
    };
  },
  'night-160ma': () => {
    const v = car(1303);
    v.park(14, { stair: [], sleepA: 0.16 });
    return {
      vehicle: v,
      expect: () => [is('parked-draw', 'fault'), asleep(0.16), notAllClear, not('stand-time', 'clear'), drives(0)],
    };
  },
  // The maker allows 25 mA; 38 mA over a weekend is beyond it though the trade's 50 mA is not reached.
  'weekend-38ma-of-25': () => {
    const v = car(1304);
    v.trip(50).park(52, { sleepA: 0.038 });
    return {
      vehicle: v,
      manifest: { limit: '25 mA' },
      expect: () => [is('parked-draw', 'fault'), asleep(0.038), drives(1), notAllClear],
    };
  },
  // 49.5 mA with a sensor of 1 % + 3 mA against 50 mA: nobody can say.
  'at-the-limit': () => {
    const v = car(1305);
    v.trip(40).park(15, { sleepA: 0.0495 });
    return { vehicle: v, expect: () => [is('parked-draw', 'undecided'), asleep(0.0495)] };
  },
  // One hour after key-off is no answer to a flat battery after a weekend.
  'one-hour': () => {
    const v = car(1306);
    v.trip(12).park(0.75);
    return {
      vehicle: v,
      expect: () => [
        bad('log-length'),
        not('parked-draw', 'fault'),
        not('sleep-time', 'fault'),
        sound('log-length'),
        drives(1),
      ],
    };
  },
  // Ten trips of 6 min in two days in winter: each takes a start and gives little back; drives do not put back what is taken.
  'trips-6min': () => {
    const v = car(1307, { charge: 0.75, climate: { meanC: 1, swingC: 2 } });
    repeat(10, (k) =>
      v.trip(6, { loadA: 48, amps: 52, crank: { seconds: 1.3 } }).park(k % 5 === 4 ? 11 : 1.2, { sleepA: 0.02 }),
    );
    return {
      vehicle: v,
      expect: (x) => [
        drives(10),
        cranks(10),
        driving(x.truth, 0.04),
        stands(10),
        noCharger,
        asleep(0.02),
        is('parked-draw', 'clear'),
        not('charging-high', 'watch'),
        not('charge-balance', 'clear'),
        totals(x),
      ],
    };
  },
};
