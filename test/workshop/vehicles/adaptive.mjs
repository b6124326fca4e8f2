// Loggers that write a row when something moves, and else one each half minute: 20 rows a second in a crank, 30 s asleep. Long steps
// asleep are no gaps, and short wakes between two of them are not missed, as the change itself is written.
import { asleep, cranks, drives, driving, is, near, noCharger, not, sound, that, totals, wakes } from '../expect.mjs';
import { every, repeat, Vehicle } from '../vehicle.mjs';

/** `onChange`: nothing but a change makes it quicker, also on the road. */
const logger = (quiet, active = 1, fast = 0.05, onChange = false) => ({
  step: active,
  adaptive: { fast, active, quiet, onChange },
});
const noGap = that(
  'no gap told',
  (r) => !r.log.faults.some((f) => f.kind === 'gap'),
  (r) => JSON.stringify(r.log.faults).slice(0, 200),
);

export default {
  'adaptive-30s': () => {
    const v = new Vehicle({ seed: 601, logger: logger(30), charge: 0.88 });
    repeat(3, () => v.trip(33).park(16, { sleepA: 0.017, wakes: every(5000, 9000, 75, 1.1, 16) }));
    return {
      vehicle: v,
      manifest: { purpose: 'baseline' },
      expect: (x) => [
        noGap,
        sound(),
        cranks(3),
        drives(3),
        driving(x.truth),
        totals(x),
        asleep(0.017),
        wakes(x.truth.wakes.length),
        is('parked-draw', 'clear'),
        noCharger,
        near('clock of the wakes', 9000, 90, (r) => r.wake_patterns[0]?.period_s),
      ],
    };
  },
  'adaptive-60s-days': () => {
    const v = new Vehicle({ seed: 602, logger: logger(60, 2, 0.05, true), charge: 0.92, capacityAh: 80 });
    v.trip(50).park(70, { sleepA: 0.012 }).trip(20).park(20, { sleepA: 0.012 });
    return {
      vehicle: v,
      expect: (x) => [
        noGap,
        sound(),
        cranks(2),
        drives(2),
        driving(x.truth),
        asleep(0.012),
        is('parked-draw', 'clear'),
        is('stand-time', 'clear'),
        noCharger,
      ],
    };
  },
  // 15 s asleep, and a third rate for a crank only: rows of 5 s on the road.
  'adaptive-5s-road': () => {
    const v = new Vehicle({ seed: 603, logger: logger(15, 5, 0.1), charge: 0.85 });
    repeat(3, () => v.trip(55).park(9, { sleepA: 0.02 }));
    return {
      vehicle: v,
      expect: (x) => [
        noGap,
        sound(),
        cranks(3),
        drives(3),
        driving(x.truth),
        asleep(0.02),
        noCharger,
        not('charging-low', 'watch'),
      ],
    };
  },
  // 180 mA asleep is at fault at any rate of rows.
  'adaptive-draw': () => {
    const v = new Vehicle({ seed: 604, logger: logger(30, 1, 0.05, true), charge: 0.85, capacityAh: 60 });
    repeat(2, () => v.trip(45).park(18, { sleepA: 0.18 }));
    return {
      vehicle: v,
      expect: (x) => [
        noGap,
        is('parked-draw', 'fault'),
        asleep(0.18),
        cranks(2),
        drives(2),
        wakes(0, 1),
        not('wake-ups', 'fault'),
        totals(x),
        noCharger,
      ],
    };
  },
};
