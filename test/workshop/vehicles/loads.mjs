// Heavy loads with the engine off, and starts that fail or last. A winch is no start: no crank voltage is judged by it.
import {
  cranks,
  drives,
  driving,
  events,
  finding,
  is,
  near,
  noCharger,
  not,
  notAllClear,
  sound,
  that,
} from '../expect.mjs';
import { every, repeat, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) =>
  new Vehicle({ seed, charge: 0.88, logger: { step: 1, adaptive: { fast: 0.05, active: 1, quiet: 10 } }, ...o });

export default {
  // Five pulls of 140 A for 22 s in the middle of a stand, 12.2 V down to about 11.3 V; no engine runs.
  winch: () => {
    const v = car(1001, { capacityAh: 95, milliohm: 4 });
    v.trip(35)
      .park(9, { sleepA: 0.018, heavy: every(4 * 3600, 95, 22, 140, 4.13) })
      .trip(40)
      .park(8, { sleepA: 0.018 });
    return {
      vehicle: v,
      expect: (x) => [
        cranks(2),
        drives(2),
        driving(x.truth),
        noCharger,
        sound(),
        events('heavy-load', x.truth.heavy.length),
        not('crank-voltage', 'fault'),
      ],
    };
  },
  // A 24 V delivery truck: eight stops, each with the tail-lift twice at 125 A for 14 s, engine off.
  'tail-lift': () => {
    const v = car(1002, { volts: 24, capacityAh: 180, milliohm: 3 });
    repeat(8, () =>
      v.trip(22, { loadA: 20, regulator: ({ x }) => (x < 1 ? null : 14.15) }).park(0.35, {
        heavy: [
          { at: 120, seconds: 14, A: 125 },
          { at: 700, seconds: 15, A: 118 },
        ],
      }),
    );
    v.park(9, {
      sleepA: 0.05,
      stair: [
        [4, 60],
        [1, 300],
      ],
    });
    return {
      vehicle: v,
      manifest: { limit: '100 mA', coldCranking: 900 },
      expect: (x) => [cranks(8), drives(8), driving(x.truth), noCharger, sound(), events('heavy-load', 16)],
    };
  },
  // Four attempts of 8 s that turn and do not catch (no fuel), then one that does. Between them the key stays on: no drive.
  'failed-starts': () => {
    const v = car(1003);
    v.park(9, { stair: [], sleepA: 0.018 });
    repeat(4, () => v.keyOn(14, 11).crank({ seconds: 8, fails: true }));
    v.trip(30, { keyS: 20 }).park(9, { sleepA: 0.018 });
    return {
      vehicle: v,
      manifest: { concern: 'Would not start this morning' },
      expect: (x) => [
        drives(1),
        driving(x.truth),
        noCharger,
        events('failed-start', 4),
        notAllClear,
        is('parked-draw', 'clear'),
        that(
          'cranks are one (started) or five',
          (r) => [1, 5].includes(r.cranks.length),
          (r) => r.cranks.length,
        ),
      ],
    };
  },
  // Three attempts and then towed: the engine never ran.
  'never-started': () => {
    const v = car(1004);
    v.park(8, { stair: [], sleepA: 0.019 });
    repeat(3, () => v.keyOn(10, 11).crank({ seconds: 9, fails: true }));
    v.park(10, { sleepA: 0.019 });
    return {
      vehicle: v,
      expect: () => [
        drives(0),
        noCharger,
        events('failed-start', 3),
        notAllClear,
        is('parked-draw', 'clear'),
        not('charging-low', 'clear'),
      ],
    };
  },
  // It turns for 6.5 s each morning before it catches: fuel pressure is lost. The battery is sound.
  'long-start': () => {
    const v = car(1005);
    repeat(3, () => v.trip(30, { crank: { seconds: 6.5 } }).park(10, { sleepA: 0.016 }));
    return {
      vehicle: v,
      expect: (x) => [
        drives(3),
        cranks(3),
        driving(x.truth),
        near('seconds of cranking', 6.5, 0.5, (r) => r.cranks[0]?.seconds),
        events('long-start', 3),
        noCharger,
        not('battery-resistance', 'fault'),
      ],
    };
  },
  // A winch with the engine running: generator at its limit, 12.6 V for 25 s, six times. The drive stays whole, and no start is seen.
  'winch-running': () => {
    const v = car(1006);
    v.park(6, { stair: [] })
      .trip(50, { dips: { A: 150, seconds: 25, everyS: [200, 420] }, amps: 80 })
      .park(8, { sleepA: 0.016 });
    return { vehicle: v, expect: (x) => [drives(1), cranks(1), driving(x.truth), noCharger, sound()] };
  },
  // A parking heater runs 25 min at 7.5 A before each start: a load, neither drive nor failure to sleep, but it is told somewhere.
  'parking-heater': () => {
    const v = car(1007, { climate: { meanC: -2, swingC: 3 } });
    repeat(3, () =>
      v
        .trip(45, { loadA: 24 })
        .park(11, { sleepA: 0.017, wakes: [{ at: 11 * 3600 - 1560, seconds: 1500, A: 7.5, on: 2 }] }),
    );
    return {
      vehicle: v,
      expect: (x) => [
        drives(3),
        cranks(3),
        driving(x.truth),
        noCharger,
        is('sleep-time', 'clear'),
        is('parked-draw', 'clear'),
        not('held-awake', 'fault'),
      ],
    };
  },
  // An inverter takes 65 A for six minutes, twice a day, from a camper's only battery.
  inverter: () => {
    const v = car(1008, { chemistry: 'agm', capacityAh: 95, milliohm: 4 });
    repeat(2, () =>
      v.trip(60).park(12, {
        sleepA: 0.02,
        heavy: [
          { at: 9000, seconds: 360, A: 65 },
          { at: 30000, seconds: 360, A: 65 },
        ],
      }),
    );
    return {
      vehicle: v,
      expect: (x) => [
        drives(2),
        cranks(2),
        driving(x.truth),
        noCharger,
        events('heavy-load', 4),
        is('sleep-time', 'clear'),
        not('crank-voltage', 'fault'),
        that(
          'the draw asleep is not theirs',
          (r) => finding(r, 'parked-draw').status === 'clear',
          (r) => finding(r, 'parked-draw').title,
        ),
      ],
    };
  },
};
