// Logs that are damaged, written elsewhere, or come from a sensor that is off. The vehicle is not blamed for its logger.
import { asleep, bad, drives, driving, is, near, not, notAllClear, settles, sound, that, totals } from '../expect.mjs';
import { repeat, STAIRCASE, sleepAfter, Vehicle } from '../vehicle.mjs';

/** A sound car of 17 mA, three drives, a row each two seconds. */
const car = (seed, logger = {}, o = {}) => {
  const v = new Vehicle({ seed, charge: 0.88, logger: { step: 2, ...logger }, ...o });
  repeat(3, (k) => v.trip(28 + 5 * k).park(9, { sleepA: 0.017 }));
  return v;
};
const figures = (x) => [
  asleep(0.017),
  drives(3),
  driving(x.truth),
  settles(sleepAfter(STAIRCASE)),
  is('parked-draw', 'clear'),
];
const LOG = [
  'log-coverage',
  'log-length',
  'current-zero',
  'current-range',
  'current-resolution',
  'current-direction',
  'current-path',
  'charger-seen',
  'supply-lost',
];

export default {
  // Torn lines, zeros, other delimiters, doubled rows: each told, none believed.
  'torn-rows': () => {
    const v = car(1601);
    const spoil = (line, r) =>
      [
        line.slice(0, 7),
        '',
        '\u0000\u0000\u0000\u0000',
        line.replaceAll(',', ';'),
        `${line},1,2,3`,
        line.replace(/,[^,]*/, ',Err'),
        '2026-13-45T99:99:99Z,12.6,-0.02,15',
      ][Math.floor(r.u() * 7)];
    return {
      vehicle: v,
      format: { mangle: (line, k, r) => (k > 300 && r.u() < 0.0006 ? spoil(line, r) : line), cut: true, eol: '\r\n' },
      expect: (x) => [
        ...figures(x),
        sound('log-coverage'),
        that(
          'bad rows counted',
          (r) => r.log.rows_rejected > 8 && r.log.rows_rejected < 80,
          (r) => r.log.rows_rejected,
        ),
      ],
    };
  },
  // Half an hour is missing twice, once asleep and once on the road.
  'two-holes': () => {
    const v = car(1602);
    const lost = (t) => (t > 20000 && t < 21800) || (t > 36200 && t < 36900);
    return {
      vehicle: v,
      format: { mangle: (line, _k, _r, t) => (lost(t) ? null : line) },
      expect: () => [
        asleep(0.017),
        is('parked-draw', 'clear'),
        sound('log-coverage'),
        that(
          'holes told',
          (r) => r.log.faults.some((f) => f.kind === 'gap' && Math.abs(f.seconds - 1800) < 10),
          (r) => JSON.stringify(r.log.faults),
        ),
      ],
    };
  },
  // Written in Germany: comma, semicolons, milliamperes, local time over the change of clocks.
  german: () => {
    const v = new Vehicle({ seed: 1603, charge: 0.88, begin: '2026-03-28T14:00:00Z', logger: { step: 2 } });
    repeat(2, () => v.trip(33).park(11, { sleepA: 0.086 }));
    const local = (t) =>
      Date.parse('2026-03-28T14:00:00Z') + t * 1000 < Date.parse('2026-03-29T01:00:00Z') ? 3600 : 7200;
    return {
      vehicle: v,
      format: {
        stamp: 'DD.MM.YYYY HH:mm:ss',
        delimiter: ';',
        decimal: ',',
        milliamps: true,
        names: ['Zeitpunkt', 'Spannung [V]', 'Strom [mA]', 'Temperatur'],
        head: ['Messreihe 7', 'erzeugt am 30.03.2026'],
        clock: local,
      },
      manifest: { timezone: 'Europe/Berlin' },
      expect: (x) => [
        is('parked-draw', 'fault'),
        asleep(0.086),
        drives(2),
        driving(x.truth),
        that(
          'begins at 14:00 UTC',
          (r) => r.log.start.startsWith('2026-03-28T14:00:00'),
          (r) => r.log.start,
        ),
        that(
          'the change of clocks is no gap',
          (r) => !r.log.faults.some((f) => ['gap', 'clock-jump'].includes(f.kind)),
          (r) => JSON.stringify(r.log.faults),
        ),
        totals(x, 0.06),
      ],
    };
  },
  // 4 to 7 May, read with month first: 5 April, 5 May, 5 June … Nothing of that is a vehicle's three days; no all-clear.
  'day-month-swapped': () => {
    const v = new Vehicle({ seed: 1604, charge: 0.88, begin: '2026-05-04T15:00:00Z', logger: { step: 5 } });
    repeat(4, () => v.trip(30).park(18, { sleepA: 0.017 }));
    return {
      vehicle: v,
      format: { stamp: 'DD.MM.YYYY HH:mm:ss' },
      manifest: { format: 'MM.DD.YYYY HH:mm:ss' },
      expect: () => [bad('log-coverage'), notAllClear, sound(...LOG)],
    };
  },
  // The sensor reads 45 mA too much into the battery: asleep it shows 28 mA of charging while the voltage falls. No vehicle does that.
  'zero-offset': () => {
    const v = car(1605, { offsetA: 0.045 });
    return {
      vehicle: v,
      expect: () => [
        bad('current-zero'),
        not('parked-draw', 'clear'),
        not('parked-draw', 'fault'),
        drives(3),
        sound(...LOG),
      ],
    };
  },
  // It wanders by 60 mA in a day to the same side.
  'zero-drift': () => {
    const v = car(1606, { driftAPerDay: 0.06 });
    return { vehicle: v, expect: () => [bad('current-zero'), not('parked-draw', 'fault'), drives(3), sound(...LOG)] };
  },
  // Mounted the wrong way round.
  reversed: () => {
    const v = car(1607, { reversed: true });
    return {
      vehicle: v,
      expect: () => [is('current-direction', 'fault'), sound('current-direction'), notAllClear, drives(3)],
    };
  },
  // A 100 A sensor in a vehicle that cranks at 200 A: readings stop at 100.
  clipped: () => {
    const v = car(1608, { step: 0.5, rangeA: 100 });
    return {
      vehicle: v,
      expect: (x) => [
        bad('current-range'),
        drives(3),
        driving(x.truth),
        asleep(0.017),
        not('battery-resistance', 'fault'),
        not('current-path', 'fault'),
      ],
    };
  },
  // Steps of 0.1 A: 17 mA are not told from nothing, nor from the limit of 50 mA.
  coarse: () => {
    const v = car(1609, { aResolution: 0.1, aNoise: 0.0002 });
    return {
      vehicle: v,
      manifest: { aAccuracy: '1 % + 100 mA' },
      expect: () => [is('parked-draw', 'undecided'), bad('current-resolution'), drives(3), sound('current-resolution')],
    };
  },
  // Its clock falls back to 2000 after a battery change inside, and goes on from there.
  'clock-2000': () => {
    const v = car(1610);
    const back = (t) =>
      t > 70000 ? (Date.parse('2000-01-01T00:00:00Z') - Date.parse('2026-03-03T17:40:00Z')) / 1000 - 70000 : 0;
    return {
      vehicle: v,
      format: { clock: back },
      expect: () => [
        bad('log-coverage'),
        that(
          'told as a jump of the clock',
          (r) => r.log.faults.some((f) => f.kind === 'clock-jump'),
          (r) => JSON.stringify(r.log.faults),
        ),
        that(
          'it is not decades long',
          (r) => r.log.covered_s < 120000,
          (r) => r.log.covered_s,
        ),
        asleep(0.017),
      ],
    };
  },
  // Elapsed time, tabs; no temperature.
  'elapsed-tabs': () => {
    const v = car(1611);
    return {
      vehicle: v,
      format: { stamp: 'elapsed-s', delimiter: '\t', temperature: false },
      expect: (x) => [...figures(x), sound(), is('freeze-risk', 'undecided', 'clear'), totals(x, 0.05)],
    };
  },
  // Two files of one log, and epoch time.
  'two-files': () => {
    const v = car(1612);
    return {
      vehicle: v,
      format: { stamp: 'epoch-s', halves: true },
      expect: (x) => [
        ...figures(x),
        sound(),
        totals(x, 0.05),
        that(
          'no gap between the files',
          (r) => !r.log.faults.some((f) => f.kind === 'gap'),
          (r) => JSON.stringify(r.log.faults),
        ),
      ],
    };
  },
  'gzip-month-first': () => {
    const v = car(1613);
    return {
      vehicle: v,
      format: { stamp: 'MM/DD/YYYY HH:mm:ss', gzip: true, eol: '\r\n' },
      expect: (x) => [...figures(x), sound(), near('covered', x.t, 10, (r) => r.log.covered_s)],
    };
  },
};
