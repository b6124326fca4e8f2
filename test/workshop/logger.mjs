// What a logger makes of the truth (resolution, noise, offset, drift, gain, its range), in several ways to write it down, and
// the session.yaml of a technician who fitted it.
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import { random } from './vehicle.mjs';

const two = (n) => String(n).padStart(2, '0');
const decimals = (resolution) => Math.max(0, Math.ceil(-Math.log10(resolution) - 1e-9));
const wall = (ms) => {
  const d = new Date(ms);
  return {
    y: d.getUTCFullYear(),
    mo: two(d.getUTCMonth() + 1),
    d: two(d.getUTCDate()),
    h: two(d.getUTCHours()),
    mi: two(d.getUTCMinutes()),
    s: two(d.getUTCSeconds()),
    ms: String(d.getUTCMilliseconds()).padStart(3, '0'),
  };
};
export const STAMPS = {
  iso: (ms) => new Date(ms).toISOString(),
  'epoch-s': (ms) => (ms / 1000).toFixed(3),
  'epoch-ms': (ms) => String(Math.round(ms)),
  'elapsed-s': (_ms, t) => t.toFixed(2),
  'DD.MM.YYYY HH:mm:ss': (ms) => {
    const w = wall(ms);
    return `${w.d}.${w.mo}.${w.y} ${w.h}:${w.mi}:${w.s}`;
  },
  'DD.MM.YYYY HH:mm:ss.SSS': (ms) => {
    const w = wall(ms);
    return `${w.d}.${w.mo}.${w.y} ${w.h}:${w.mi}:${w.s}.${w.ms}`;
  },
  'MM/DD/YYYY HH:mm:ss': (ms) => {
    const w = wall(ms);
    return `${w.mo}/${w.d}/${w.y} ${w.h}:${w.mi}:${w.s}`;
  },
};

const PLAIN = {
  vResolution: 0.001,
  aResolution: 0.001,
  vNoise: 0.002,
  aNoise: 0.0008,
  gain: 1,
  offsetA: 0,
  driftAPerDay: 0,
  rangeA: 800,
};
const FORMAT = {
  stamp: 'iso',
  delimiter: ',',
  decimal: '.',
  names: ['time', 'battery_v', 'battery_a', 'temp_c'],
  eol: '\n',
  head: [],
  temperature: true,
  circuits: 0,
};

/** The log's text. `format` may hold `mangle(line, k, r)`, which damages a row or returns null to lose it. */
export function logText(vehicle, format) {
  const f = { ...FORMAT, ...format };
  const s = { ...PLAIN, ...vehicle.logger };
  const r = random(71 + (vehicle.o.seed ?? 1));
  const stamp = STAMPS[f.stamp];
  const shift = (f.localHours ?? 0) * 3600e3;
  const number = (x, resolution, digits) => {
    const text = (Math.round(x / resolution) * resolution).toFixed(digits);
    return f.decimal === '.' ? text : text.replace('.', ',');
  };
  const [vd, ad] = [decimals(s.vResolution), decimals(s.aResolution * (f.milliamps ? 1000 : 1))];
  const names = [...f.names.slice(0, 1 + 1 + (f.voltageOnly ? 0 : 1) + (f.temperature && !f.voltageOnly ? 1 : 0))];
  for (let c = 0; c < f.circuits; c++) names.push(`in${c + 1}_v`);
  const lines = [...f.head, names.join(f.delimiter)];
  const { t, v, a, c, on } = vehicle.rows;
  for (let k = 0; k < t.length; k++) {
    const ms =
      vehicle.begin + Math.round((t[k] * (1 + (s.clockPpm ?? 0) * 1e-6) + (f.clock?.(t[k]) ?? 0)) * 1000) + shift;
    let A = a[k] * s.gain + s.offsetA + (s.driftAPerDay * t[k]) / 86400 + s.aNoise * r.n();
    if (f.bypass && a[k] < -60) A = -3 + 0.5 * r.n();
    if (s.sees) A = s.sees(A, a[k]);
    A = Math.max(-s.rangeA, Math.min(s.rangeA, A)) * (s.reversed ? -1 : 1);
    const V = Math.max(0, v[k] + s.vNoise * r.n());
    const cells = [stamp(ms, t[k]), number(V, s.vResolution, vd)];
    if (!f.voltageOnly) cells.push(number(f.milliamps ? A * 1000 : A, s.aResolution * (f.milliamps ? 1000 : 1), ad));
    if (f.temperature && !f.voltageOnly) cells.push(number(c[k] + 0.05 * r.n(), 0.1, 1));
    for (let n = 0; n < f.circuits; n++) {
      const volts = f.across?.[n] ? f.across[n](a[k]) : on[k] & (1 << n) ? V - 0.08 : 0.04;
      cells.push(number(volts, 0.01, 2));
    }
    const line = cells.join(f.delimiter);
    const kept = f.mangle ? f.mangle(line, k, r, t[k]) : line;
    if (kept !== null) lines.push(kept);
  }
  return lines.join(f.eol) + (f.cut ? lines.at(-1).slice(0, 14) : f.eol);
}

/** Writes the session's folder: session.yaml, and the log in one file or in several of `format.split` seconds each. */
export function writeSession(folder, id, vehicle, m = {}, format = {}) {
  const f = { ...FORMAT, ...format };
  mkdirSync(join(folder, 'log'), { recursive: true });
  const text = logText(vehicle, f);
  const name = f.delimiter === '\t' ? 'log.tsv' : 'log.csv';
  if (f.gzip) writeFileSync(join(folder, 'log', `${name}.gz`), gzipSync(text));
  else if (f.halves) {
    const lines = text.split(f.eol);
    const head = f.head.length + 1;
    const half = head + Math.floor((lines.length - head) / 2);
    writeFileSync(join(folder, 'log', `1-${name}`), lines.slice(0, half).join(f.eol) + f.eol);
    writeFileSync(join(folder, 'log', `2-${name}`), [...lines.slice(0, head), ...lines.slice(half)].join(f.eol));
  } else writeFileSync(join(folder, 'log', name), text);
  writeFileSync(join(folder, 'session.yaml'), manifest(id, vehicle, m, f));
}

const q = (x) => JSON.stringify(x);
function manifest(id, vehicle, m, f) {
  const s = { ...PLAIN, ...vehicle.logger };
  const col = (k) => q(f.names[k]);
  const format = m.format ?? f.stamp;
  const lines = ['standstill: 1', 'session:', `  id: ${id}`, `  title: ${q(m.title ?? 'Workshop vehicle')}`];
  lines.push(
    `  purpose: ${m.purpose ?? 'complaint'}`,
    `  concern: ${q(m.concern ?? 'Flat after standing')}`,
    `  timezone: ${m.timezone ?? 'UTC'}`,
  );
  lines.push(
    'vehicle:',
    `  description: ${q(m.vehicle ?? 'Invented vehicle')}`,
    `  powertrain: ${m.powertrain ?? 'combustion'}`,
  );
  lines.push(
    `  system_voltage: ${vehicle.series * 12} V`,
    'battery:',
    `  chemistry: ${vehicle.chemistry}`,
    `  capacity: ${vehicle.capacityAh} Ah`,
  );
  if (m.coldCranking !== null) lines.push(`  cold_cranking: ${m.coldCranking ?? 640} A`, '  cranking_standard: EN');
  if (m.fitted) lines.push(`  fitted: ${m.fitted}`);
  lines.push('log:', `  files: ["log/*${f.delimiter === '\t' ? '.tsv' : '.csv'}${f.gzip ? '.gz' : ''}"]`);
  if (f.delimiter !== ',' || f.decimal !== '.')
    lines.push(`  delimiter: ${q(f.delimiter)}`, `  decimal: ${q(f.decimal)}`);
  if (f.head.length) lines.push(`  skip_rows: ${f.head.length}`);
  if (format === 'elapsed-s') lines.push(`  start: ${new Date(vehicle.begin).toISOString()}`);
  lines.push(
    '  columns:',
    `    time: {name: ${col(0)}, format: ${q(format)}}`,
    `    voltage: {name: ${col(1)}, unit: V, accuracy: ${m.vAccuracy ?? '0.1 % + 10 mV'}}`,
  );
  if (!f.voltageOnly) {
    lines.push(
      `    current: {name: ${col(2)}, unit: ${f.milliamps ? 'mA' : 'A'}, positive: charging, accuracy: ${m.aAccuracy ?? '1 % + 3 mA'}, range: ${m.range ?? s.rangeA} A}`,
    );
    if (f.temperature) lines.push(`    temperature: {name: ${col(3)}, unit: °C}`);
  }
  if (f.circuits) {
    lines.push('  channels:');
    for (let c = 0; c < f.circuits; c++)
      lines.push(
        `    - {name: in${c + 1}_v, label: ${q(m.labels?.[c] ?? `Circuit ${c + 1}`)}, ${f.across?.[c] ? 'measures: drop' : 'active_above: 6 V'}}`,
      );
  }
  lines.push('limits:', `  parked_draw: {max: ${m.limit ?? '50 mA'}, source: Vehicle maker's service information}`);
  if (m.more) lines.push(...m.more);
  return `${lines.join('\n')}\n`;
}
