// Loggers of 10 and 20 rows a second, with what only they see: the inrush, compressions, and the ripple of a running engine's supply.
import { asleep, cranks, drives, driving, is, near, noCharger, not, sound, that, totals } from '../expect.mjs';
import { repeat, Vehicle } from '../vehicle.mjs';

const plain = (seed, step, o = {}) => new Vehicle({ seed, charge: 0.87, logger: { step }, ...o });
const milliohm = (v, tolerance = 0.2) =>
  near('resistance', v.r0, tolerance * v.r0 + 0.0006, (r) => r.cranks[0]?.resistance_ohm);

export default {
  'fast-20hz': () => {
    const v = plain(501, 0.05, { climate: { meanC: 22, swingC: 1 } });
    v.park(0.2, { stair: [] });
    repeat(2, () => v.trip(7, { loadA: 14 }).park(0.45));
    return {
      vehicle: v,
      expect: (x) => [
        sound('log-length'),
        drives(2),
        driving(x.truth),
        cranks(2),
        noCharger,
        totals(x),
        milliohm(x),
        near('lowest voltage', x.truth.cranks[0].voltsMin, 0.2, (r) => r.cranks[0]?.volts_min),
        near('seconds of cranking', 0.9, 0.25, (r) => r.cranks[0]?.seconds),
      ],
    };
  },
  // Voltage in 0.1 V steps and no current of use: dips of the running engine's supply (fan, steering, glow) by 0.3 to 0.9 V for half a
  // second are no starts; a start pulls the battery below its rest, and these stay above 13 V.
  'dips-20hz': () => {
    const v = plain(502, 0.05, { logger: { step: 0.05, vResolution: 0.1, aResolution: 0.1 } });
    v.park(0.15, { stair: [] });
    repeat(2, () => v.trip(14, { loadA: 14, amps: 60, dips: { A: 75, seconds: 0.5, everyS: [6, 25] } }).park(0.25));
    return {
      vehicle: v,
      manifest: { aAccuracy: '1 % + 100 mA' },
      expect: (x) => [cranks(2), drives(2), driving(x.truth), noCharger, not('crank-voltage', 'fault')],
    };
  },
  // The same, in a drive where the dips go down to 12.2 V because the generator is at its limit, without temperature.
  'dips-deep-10hz': () => {
    const v = plain(503, 0.1, { logger: { step: 0.1, vResolution: 0.1 } });
    v.park(0.2, { stair: [] });
    repeat(3, () => v.trip(12, { loadA: 20, amps: 45, dips: { A: 110, seconds: 0.6, everyS: [10, 60] } }).park(0.3));
    return {
      vehicle: v,
      format: { temperature: false },
      expect: (x) => [cranks(3), drives(3), driving(x.truth), noCharger],
    };
  },
  // Ten rows a second, five starts of a small engine on a frosty morning; each is there, with its length.
  'five-starts-10hz': () => {
    const v = plain(504, 0.1, { climate: { meanC: -3, swingC: 1 }, charge: 0.8 });
    v.park(0.2, { stair: [] });
    repeat(5, (k) => v.trip(5, { crank: { seconds: 0.7 + 0.3 * k }, loadA: 22 }).park(0.12));
    return {
      vehicle: v,
      expect: (x) => [
        cranks(5),
        drives(5),
        driving(x.truth, 0.04),
        noCharger,
        milliohm(x, 0.45),
        that(
          'the fifth start is the longest',
          (r) => Math.abs(r.cranks[4]?.seconds - 1.9) < 0.35,
          (r) => r.cranks.map((c) => c.seconds).join(),
        ),
      ],
    };
  },
  // A night asleep at ten rows a second in coarse time stamps of a second would repeat them; here they carry milliseconds.
  'night-2hz': () => {
    const v = plain(505, 0.5, { charge: 0.9 });
    v.trip(25).park(5, { sleepA: 0.016 });
    return {
      vehicle: v,
      format: { stamp: 'epoch-ms' },
      expect: (x) => [
        sound('log-length'),
        asleep(0.016),
        is('parked-draw', 'clear'),
        drives(1),
        cranks(1),
        totals(x),
        noCharger,
      ],
    };
  },
};
