// Hours without a battery, contacts that come and go, a battery's own switch, a logger without power.
import {
  bad,
  cranks,
  drives,
  driving,
  kindSeconds,
  near,
  noCharger,
  not,
  notAllClear,
  plainAnswer,
  says,
  that,
} from '../expect.mjs';
import { repeat, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) =>
  new Vehicle({ seed, charge: 0.86, logger: { step: 1, adaptive: { fast: 0.05, active: 1, quiet: 10 } }, ...o });
const off = (s) => near('seconds disconnected', s, 0.05 * s + 30, (r) => kindSeconds(r, 'disconnected'));

export default {
  // Five hours at 0.00 V in the middle of a stand are not sleep.
  'off-5h': () => {
    const v = car(1201);
    v.trip(35);
    v.keepStand = true;
    v.park(8, { sleepA: 0.017 }).dead(5);
    v.stand = null;
    v.keepStand = false;
    v.park(9, {
      stair: [
        [3.1, 120],
        [0.6, 200],
      ],
      sleepA: 0.017,
    })
      .trip(30)
      .park(6, { sleepA: 0.017 });
    return {
      vehicle: v,
      expect: (x) => [
        bad('supply-lost'),
        off(5 * 3600),
        drives(2),
        cranks(2),
        driving(x.truth),
        not('parked-draw', 'fault'),
        not('deep-discharge', 'fault'),
        near('asleep', 22.6 * 3600, 3000, (r) => r.totals.asleep_s),
      ],
    };
  },
  // A terminal that loses contact three times for seconds to minutes, also while parked.
  'loose-terminal': () => {
    const v = car(1202, { logger: { step: 1 } });
    v.trip(25)
      .park(4)
      .dead(35 / 3600)
      .park(3, {
        stair: [
          [2.5, 60],
          [0.5, 100],
        ],
      })
      .dead(150 / 3600)
      .park(5, {
        stair: [
          [2.5, 60],
          [0.5, 100],
        ],
      });
    v.trip(20)
      .park(2)
      .dead(12 / 3600)
      .park(3, {
        stair: [
          [2.5, 60],
          [0.5, 100],
        ],
      });
    return {
      vehicle: v,
      manifest: { concern: 'Cuts out, at times dead' },
      expect: () => [bad('supply-lost'), notAllClear, not('deep-discharge', 'fault'), drives(2)],
    };
  },
  // A lithium motorcycle battery whose switch opens at the end, after 150 mA have emptied it: 0.3 V for the last four hours.
  'bms-opens': () => {
    const v = car(1203, { chemistry: 'lfp', capacityAh: 8, milliohm: 8, charge: 0.55 });
    v.trip(20, { loadA: 6, amps: 16, crank: { turningOhm: 0.1 } })
      .park(38, { sleepA: 0.155, stair: [[1, 30]] })
      .dead(4, 0.3);
    return {
      vehicle: v,
      manifest: { coldCranking: null, limit: '10 mA' },
      expect: () => [
        bad('supply-lost'),
        off(4 * 3600),
        drives(1),
        noCharger,
        {
          ...says('it was the battery that switched off, or nearly so', /switch|cut off|cut-off|management|protect/i),
          what: 'speaks of a cut-off',
        },
        notAllClear,
      ],
    };
  },
  // The logger itself lost power for six hours.
  'logger-dark': () => {
    const v = car(1204);
    v.trip(30).park(5, { sleepA: 0.016 }).unlogged(6);
    v.park(8, { stair: [], sleepA: 0.016 }).trip(30).park(7, { sleepA: 0.016 });
    return {
      vehicle: v,
      expect: () => [
        bad('log-coverage'),
        that(
          'six hours missing',
          (r) => Math.abs(r.log.missing_s - 21600) < 200,
          (r) => r.log.missing_s,
        ),
        drives(2),
        not('parked-draw', 'fault'),
        plainAnswer,
      ],
    };
  },
  // The battery is replaced in mid-log: before, 19 mΩ and half charged; after 14 min at 0 V, 5 mΩ and full. The manifest's note says so.
  replaced: () => {
    const v = car(1205, { milliohm: 19, charge: 0.5 });
    repeat(3, () => v.trip(25).park(9, { sleepA: 0.018 }));
    v.dead(14 / 60);
    v.r0 = 0.005;
    v.charge = 0.97;
    v.slow = { u1: 0, u2: 0, surface: 0.1 };
    v.park(0.3, {
      stair: [
        [3, 60],
        [0.8, 300],
      ],
    });
    repeat(3, () => v.trip(25).park(9, { sleepA: 0.018 }));
    return {
      vehicle: v,
      manifest: { more: ['notes:', '  - {at: 2026-03-04T23:00:00Z, text: Battery replaced by a new one}'] },
      expect: (x) => [
        drives(6),
        cranks(6),
        driving(x.truth),
        bad('supply-lost'),
        says('tells of another battery', /replac|another battery|new battery|exchanged|changed/i),
      ],
    };
  },
};
