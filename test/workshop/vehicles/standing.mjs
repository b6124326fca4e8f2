// Voltage alone. What raised it cannot be told, nor whether anything drove, unless a start proves it.
import { cranks, drives, driving, is, not, sound, that } from '../expect.mjs';
import { repeat, Vehicle } from '../vehicle.mjs';

const only = { voltageOnly: true };
const sun = (peak) => (hour) =>
  Math.max(0, peak * Math.sin(((hour - 6) / 12) * Math.PI)) * (hour > 6 && hour < 18 ? 1 : 0);
const noVehicle = [
  drives(0),
  cranks(0),
  sound('log-length'),
  is('parked-draw', 'undecided'),
  not('charging-low', 'watch'),
  not('charging-high', 'watch'),
  that(
    'it does not say that there was no charger',
    (r) => r.findings.find((f) => f.check === 'charger-seen').status !== 'clear',
    (r) => r.findings.find((f) => f.check === 'charger-seen').title,
  ),
];

export default {
  // A 200 Ah lithium bank of a hut, a row each ten minutes; a panel fills it by day, lamps take 6 A in the evening.
  'hut-bank': () => {
    const v = new Vehicle({
      seed: 1101,
      chemistry: 'lfp',
      capacityAh: 200,
      milliohm: 2,
      charge: 0.7,
      begin: '2026-04-10T00:00:00Z',
      logger: { step: 600 },
    });
    v.park(24 * 9, {
      stair: [],
      sleepA: ({ hour }) => (hour > 18 && hour < 23 ? 6 : 0.2),
      feeds: [{ at: 0, seconds: 1e8, volts: 14.2, amps: sun(14) }],
    });
    return {
      vehicle: v,
      format: only,
      manifest: { coldCranking: null, vehicle: 'Hut', concern: 'Is it full?' },
      expect: () => noVehicle,
    };
  },
  // A weather station: 12 Ah AGM, 60 mA, a small panel with a regulator at 13.8 V.
  'weather-station': () => {
    const v = new Vehicle({
      seed: 1102,
      chemistry: 'agm',
      capacityAh: 12,
      milliohm: 25,
      charge: 0.8,
      begin: '2026-02-10T00:00:00Z',
      logger: { step: 300 },
    });
    v.park(24 * 7, { stair: [], sleepA: 0.06, feeds: [{ at: 0, seconds: 1e8, volts: 13.8, amps: sun(0.5) }] });
    return {
      vehicle: v,
      format: only,
      manifest: { coldCranking: null, vehicle: 'Weather station', concern: 'Stops at night' },
      expect: () => noVehicle,
    };
  },
  // A boat's house battery, shore power twice, a row a minute.
  boat: () => {
    const v = new Vehicle({ seed: 1103, capacityAh: 110, charge: 0.75, logger: { step: 60 } });
    repeat(2, () => v.park(20, { stair: [], sleepA: 0.4 }).charger(9, { volts: 14.2, amps: 12 }));
    v.park(24, { stair: [], sleepA: 0.4 });
    return {
      vehicle: v,
      format: only,
      manifest: { coldCranking: null, vehicle: 'Boat, house battery', concern: 'Flat on board' },
      expect: () => noVehicle,
    };
  },
  // An alarm panel on float: 13.65 V for four days, which no vehicle does; that something feeds it may be said here.
  'alarm-panel': () => {
    const v = new Vehicle({
      seed: 1104,
      chemistry: 'agm',
      capacityAh: 18,
      milliohm: 15,
      charge: 0.99,
      logger: { step: 120 },
    });
    v.charger(24 * 4, { volts: 13.65, amps: 1, loadA: 0.15 });
    return {
      vehicle: v,
      format: only,
      manifest: { coldCranking: null, vehicle: 'Alarm panel', concern: 'None', purpose: 'baseline' },
      expect: () => [...noVehicle.filter((e) => !e.what.startsWith('no fault')), sound('log-length', 'charger-seen')],
    };
  },
  // A car, a row each second: the starts prove the drives.
  'car-voltage': () => {
    const v = new Vehicle({ seed: 1105, charge: 0.85, logger: { step: 0.5 } });
    v.park(2, { stair: [] });
    repeat(3, (k) => v.trip(25 + 10 * k, { crank: { seconds: 1.4 } }).park(4));
    return {
      vehicle: v,
      format: only,
      expect: (x) => [
        sound(),
        drives(3),
        cranks(3),
        driving(x.truth, 0.05),
        is('parked-draw', 'undecided'),
        not('charging-low', 'watch'),
        not('charger-seen', 'fault'),
      ],
    };
  },
  // The same at a row a minute: no start shows. No fault, and nothing claimed of the draw.
  'car-voltage-60s': () => {
    const v = new Vehicle({ seed: 1106, charge: 0.85, logger: { step: 60 } });
    repeat(4, () => v.trip(40).park(11));
    return {
      vehicle: v,
      format: only,
      expect: () => [
        sound(),
        is('parked-draw', 'undecided'),
        is('crank-voltage', 'undecided'),
        not('charger-seen', 'fault'),
      ],
    };
  },
};
