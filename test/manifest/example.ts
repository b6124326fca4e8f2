/** The manifest that the documentation shows, whole, and a session folder in memory to read it from. */
import { join, resolve } from 'node:path';
import type { Files } from '../../src/base/files.ts';

export const EXAMPLE = `standstill: 1
session:
  id: harbour-van-march        # letters, digits, hyphen; the folder name in the archive
  title: Flat after a weekend
  purpose: complaint           # baseline | complaint | after-repair
  concern: Will not start after two days parked
  repair_order: HL-20431
  technician: D. Okafor
  timezone: Europe/Dublin      # IANA name
vehicle:
  description: 2017 panel van, 2.0 diesel
  registration: 171-D-00000    # and vin: — both are left out when the report is redacted
  odometer: 84210 km
  powertrain: combustion       # combustion | hybrid | electric
  system_voltage: 12 V         # 6 V | 12 V | 24 V
battery:
  chemistry: flooded           # flooded | efb | agm | gel | lfp
  capacity: 70 Ah              # 20-hour rating
  cold_cranking: 680 A
  cranking_standard: EN        # EN | SAE | IEC | DIN
  reserve_capacity: 120 min
  fitted: 2022-05
log:
  files: ["log/*.csv"]         # in name order; .csv .tsv .txt, also .gz, and .parquet
  delimiter: ","               # optional: found from the file
  decimal: "."                 # optional: "." or ","
  skip_rows: 0                 # lines before the header row
  start: 2026-03-03T17:40:00   # only for elapsed time
  columns:
    time:        {name: time, format: iso}     # iso | epoch-s | epoch-ms | elapsed-s | a pattern such as "DD.MM.YYYY HH:mm:ss"
    voltage:     {name: battery_v, unit: V, accuracy: 0.1 % + 10 mV}
    current:     {name: battery_a, unit: A, positive: charging, accuracy: 1 % + 5 mA, range: 500 A}
    temperature: {name: temp_c, unit: °C}
  channels:                    # up to four monitored circuits
    - {name: in2_v, label: Tracker supply, active_above: 6 V}
limits:                        # all optional; each default is listed by \`standstill checks\`, with its source
  parked_draw: {max: 50 mA, source: Vehicle maker's service information}
  sleep_within: 30 min
install:                       # what the technician saw while fitting; printed in the report, and checked against the log
  fitted_at: 2026-03-03T17:30
  memory_saver: {used: true, voltage_before: 12.5 V, voltage_during: 13.4 V}
  clock_checked: true
  amp_hours_cleared: true
  current_sensor: {place: negative cable}
  removed_at: 2026-03-08T09:00
notes:
  - {at: 2026-03-04T18:20, text: Locked with the remote, bonnet closed}
photos: [photos/battery.jpg]
`;

export const FOLDER = resolve('/sessions/harbour');

/** A folder tree in memory: relative name to content. No links. */
export function memoryFiles(content: Record<string, string | Uint8Array>): Files {
  const nodes = new Map<string, Uint8Array | 'folder'>([[FOLDER, 'folder']]);
  for (const [name, data] of Object.entries(content)) {
    const parts = name.split('/');
    for (let n = 1; n < parts.length; n++) nodes.set(join(FOLDER, ...parts.slice(0, n)), 'folder');
    nodes.set(join(FOLDER, ...parts), typeof data === 'string' ? new TextEncoder().encode(data) : data);
  }
  return {
    readFile: (path) => nodes.get(path) as Uint8Array,
    stat(path) {
      const node = nodes.get(path);
      if (node === undefined) return undefined;
      return node === 'folder' ? { kind: 'folder', bytes: 0 } : { kind: 'file', bytes: node.length };
    },
    isLink: () => false,
    realpath: (path) => path,
    readdir: (path) =>
      [...nodes.keys()]
        .filter((node) => node !== path && join(node, '..') === path)
        .map((node) => node.slice(path.length + 1)),
  };
}

export const LOG_AND_PHOTO = { 'log/day1.csv': '', 'photos/battery.jpg': '' };

export function exampleFiles(
  manifest: string | Uint8Array = EXAMPLE,
  others: Record<string, string> = LOG_AND_PHOTO,
): Files {
  return memoryFiles({ 'session.yaml': manifest, ...others });
}
