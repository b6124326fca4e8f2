/** A session for the benchmarks: a logger at 10 Hz, or slower, on a van that is driven twice a day and wakes at intervals while parked. */
import { closeSync, mkdirSync, openSync, writeFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';

const manifest = (id, registration) => `standstill: 1
session: {id: ${id}, title: Benchmark, purpose: baseline, timezone: Europe/Dublin}
vehicle: {description: van, registration: ${registration}, powertrain: combustion, system_voltage: 12 V}
battery: {chemistry: agm, capacity: 70 Ah}
log:
  files: ["log.csv"]
  columns:
    time: {name: time, format: iso}
    voltage: {name: battery_v, unit: V, accuracy: 0.1 % + 5 mV}
    current: {name: battery_a, unit: A, positive: charging, accuracy: 0.5 % + 2 mA}
    temperature: {name: temp_c, unit: °C}
  channels:
    - {name: in1_v, label: Radio supply}
    - {name: in2_v, label: Door module supply}
    - {name: in3_v, label: Key supply}
    - {name: in4_v, label: Spare}
`;
export const COLUMNS = ['time', 'battery_v', 'battery_a', 'temp_c', 'in1_v', 'in2_v', 'in3_v', 'in4_v'];

const DAY_S = 86_400;
const START_MS = Date.UTC(2026, 0, 5);
/** Key on and key off, s after midnight. */
const DRIVES = [
  [28_800, 31_800],
  [61_200, 63_000],
];
const CRANK_S = 1.2;
const AFTER_RUN_S = 600;
const WAKE_EVERY_S = 2220;
const WAKE_S = 40;

/**
 * Writes `session.yaml` and a log of `rows` rows into `folder`, the same in every run; gives the log's bytes.
 *
 * @param perS rows a second
 * @param noise where its random numbers start
 */
export function makeSession(
  folder,
  rows,
  { id = 'benchmark', registration = 'BENCH-1', perS = 10, noise: seed = 12_345 } = {},
) {
  mkdirSync(folder, { recursive: true });
  writeFileSync(join(folder, 'session.yaml'), manifest(id, registration));
  const file = openSync(join(folder, 'log.csv'), 'w');
  let bytes = writeSync(file, `${COLUMNS.join(',')}\n`);
  const noise = noiseFrom(seed);
  let text = '';
  let second = '';
  for (let row = 0; row < rows; row++) {
    if (row % perS === 0) second = new Date(START_MS + (row / perS) * 1000).toISOString().slice(0, 20);
    const ms = String(Math.round(((row % perS) * 1000) / perS)).padStart(3, '0');
    text += `${second}${ms}Z,${readings(row / perS, noise)}\n`;
    if (text.length < 1 << 20 && row < rows - 1) continue;
    bytes += writeSync(file, text);
    text = '';
  }
  closeSync(file);
  return bytes;
}

/** `atS`: since the log began. */
function readings(atS, noise) {
  const day = atS % DAY_S;
  const cranking = DRIVES.some(([on]) => day >= on - CRANK_S && day < on);
  const drive = DRIVES.find(([on, off]) => day >= on && day < off);
  const running = drive !== undefined;
  const after = DRIVES.some(([, off]) => day >= off && day < off + AFTER_RUN_S);
  const awake = !running && !after && atS % WAKE_EVERY_S < WAKE_S;
  let amperes = -0.021 + 0.004 * noise();
  if (cranking) amperes = -180 + 40 * noise();
  else if (running) amperes = 12 * Math.exp(-(day - drive[0]) / 1500) + 1.5 * noise();
  else if (after) amperes = -4 + 0.01 * noise();
  else if (awake) amperes = -2.1 + 0.02 * noise();
  const volts = (cranking ? 11.5 : running ? 14.4 : 12.63) + 0.01 * noise() + (running ? 0 : 0.005 * amperes);
  const celsius = 12 + 5 * Math.sin(atS / 13_750);
  return [
    fixed(volts, 3),
    fixed(amperes, 3),
    fixed(celsius, 1),
    awake ? '12.10' : '0.02',
    awake || after ? '11.8' : '0.01',
    running ? '14.2' : '0.0',
    `12.${((atS * 10) % 9) | 0}`,
  ].join(',');
}

/** As `toFixed`, and several times as quick. */
function fixed(value, places) {
  const scale = 10 ** places;
  const whole = Math.round(Math.abs(value) * scale);
  const fraction = String(whole % scale).padStart(places, '0');
  return `${value < 0 ? '-' : ''}${Math.floor(whole / scale)}.${fraction}`;
}

/** Even between -0.5 and 0.5. */
function noiseFrom(start) {
  let state = start;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32 - 0.5;
  };
}
