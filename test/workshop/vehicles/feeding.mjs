// Fed from outside: sun, maintainers, chargers, donors, a workshop's supply. What comes in is no drive; a drive that begins meanwhile
// is one; and what the vehicle draws asleep is read from the hours without feeding. That a log fed for long says less is no accusation of the vehicle (`charger-seen`).
import {
  asleep,
  bad,
  cranks,
  drives,
  driving,
  is,
  kindSeconds,
  near,
  not,
  notAllClear,
  plainAnswer,
  sound,
  that,
} from '../expect.mjs';
import { repeat, Vehicle } from '../vehicle.mjs';

const car = (seed, o = {}) =>
  new Vehicle({ seed, charge: 0.8, logger: { step: 2, adaptive: { fast: 0.05, active: 1, quiet: 10 } }, ...o });
/** Amperes of a panel by the hour of day, with `peak` at noon. */
const sun = (peak) => (hour) =>
  Math.max(0, peak * Math.sin(((hour - 6.5) / 11) * Math.PI)) * (hour > 6.5 && hour < 17.5 ? 1 : 0);
const all = 1e7;
const fed = (h, tolerance = 0.08) =>
  near('hours fed', h * 3600, tolerance * h * 3600 + 120, (r) => kindSeconds(r, 'on-charger'));

export default {
  // A camper's panel feeds at noon when the key is turned; the drive is a drive.
  'sun-at-key-on': () => {
    const v = car(901, { begin: '2026-05-05T18:00:00Z', chemistry: 'agm', capacityAh: 95 });
    v.park(18, { stair: [], sleepA: 0.03, feeds: [{ at: 0, seconds: all, volts: 14.2, amps: sun(6) }] });
    v.trip(35, { feed: { volts: 14.2, amps: 5.9 } });
    v.park(24, { sleepA: 0.03, feeds: [{ at: 0, seconds: all, volts: 14.2, amps: sun(6) }] });
    v.trip(50, { feed: { volts: 14.2, amps: 5.9 } }).park(4, { sleepA: 0.03 });
    return {
      vehicle: v,
      expect: (x) => [
        sound('charger-seen'),
        drives(2),
        cranks(2),
        driving(x.truth),
        bad('charger-seen'),
        asleep(0.03, 0.004),
        is('parked-draw', 'clear'),
      ],
    };
  },
  // A maintainer holds 13.5 V until the start and is torn off with it.
  'maintainer-to-key-on': () => {
    const v = car(902);
    repeat(3, () =>
      v
        .trip(30, { feed: { volts: 13.5, amps: 2 } })
        .park(14, { sleepA: 0.02, feeds: [{ at: 3 * 3600, seconds: all, volts: 13.5, amps: 2 }] }),
    );
    return {
      vehicle: v,
      expect: (x) => [
        sound('charger-seen'),
        drives(3),
        cranks(3),
        driving(x.truth),
        bad('charger-seen'),
        asleep(0.02),
        fed(33),
      ],
    };
  },
  // Flat: it only clicks. A donor's running engine gives 13.9 V for nine minutes, then it starts and drives.
  'donor-start': () => {
    const v = car(903, { charge: 0.04, capacityAh: 60 });
    v.park(10, { stair: [], sleepA: 0.06 });
    v.keyOn(10, 7).crank({ seconds: 0.8, click: true, fails: true });
    v.truth.failed = [];
    v.run(540, 1, () => ({ kind: 'on-charger', A: 1.2, source: { volts: 13.9, amps: 45 } }));
    v.trip(45, { feed: { volts: 13.9, amps: 45 } }).park(8, { sleepA: 0.06 });
    return {
      vehicle: v,
      manifest: { limit: '50 mA' },
      expect: (x) => [
        drives(1),
        driving(x.truth, 0.04),
        bad('resting-charge'),
        is('parked-draw', 'fault'),
        notAllClear,
        that(
          'the start is there',
          (r) => r.cranks.length >= 1 && r.cranks.length <= 2,
          (r) => r.cranks.length,
        ),
      ],
    };
  },
  // A 5 A charger on the drive overnight, in the middle of a stand.
  'charger-night': () => {
    const v = car(904, { charge: 0.6 });
    v.trip(20)
      .park(26, { sleepA: 0.017, feeds: [{ at: 4 * 3600, seconds: 7 * 3600, volts: 14.4, amps: 5 }] })
      .trip(25)
      .park(9, { sleepA: 0.017 });
    return {
      vehicle: v,
      expect: (x) => [
        sound('charger-seen', 'resting-charge'),
        drives(2),
        cranks(2),
        driving(x.truth),
        bad('charger-seen'),
        fed(7),
        asleep(0.017),
        is('parked-draw', 'clear'),
      ],
    };
  },
  // Three days parked with a panel of 1.5 A: nights show 21 mA. No drive, no crank, and no mean of sun and sleep.
  'parked-sun': () => {
    const v = car(905, { begin: '2026-06-02T19:00:00Z', charge: 0.85 });
    v.park(76, { stair: [], sleepA: 0.021, feeds: [{ at: 0, seconds: all, volts: 13.9, amps: sun(1.5) }] });
    return {
      vehicle: v,
      expect: () => [
        sound('charger-seen'),
        drives(0),
        cranks(0),
        asleep(0.021),
        is('parked-draw', 'clear'),
        bad('charger-seen'),
        plainAnswer,
      ],
    };
  },
  // The same sun over 170 mA: by night the draw shows, by day the panel hides it.
  'sun-hides-draw': () => {
    const v = car(906, { begin: '2026-06-02T19:00:00Z', charge: 0.85 });
    v.park(60, { stair: [], sleepA: 0.17, feeds: [{ at: 0, seconds: all, volts: 14.0, amps: sun(2.5) }] });
    return { vehicle: v, expect: () => [drives(0), cranks(0), asleep(0.17), is('parked-draw', 'fault'), notAllClear] };
  },
  // On a maintainer in the showroom from first to last: what it draws cannot be told.
  'float-whole-log': () => {
    const v = car(907, { charge: 0.98 });
    v.run(30 * 3600, 5, () => ({
      kind: 'on-charger',
      A: 0.03 * (1 + 0.05 * v.r.n()),
      source: { volts: 13.4, amps: 1 },
    }));
    return {
      vehicle: v,
      expect: () => [
        sound('charger-seen', 'log-length'),
        drives(0),
        cranks(0),
        not('parked-draw', 'clear'),
        bad('charger-seen'),
        not('charging-low', 'fault'),
      ],
    };
  },
  // Programming: key on for 50 min, 30 A, held by a 60 A supply at 13.6 V. Neither drive nor start.
  'workshop-supply': () => {
    const v = car(908);
    v.park(9, { stair: [], sleepA: 0.018 });
    v.run(3000, 1, () => ({ kind: 'key-on', A: 28 * (1 + 0.05 * v.r.n()), source: { volts: 13.6, amps: 60 }, on: 1 }));
    v.park(10, { sleepA: 0.018 });
    return {
      vehicle: v,
      expect: () => [sound('charger-seen'), cranks(0), asleep(0.018), is('parked-draw', 'clear'), bad('charger-seen')],
    };
  },
};
