/** From the manifest's own keys to the Session that the rest of the program reads. */

import { there } from '../base/there.ts';
import { capacityFromReserveAh } from '../battery/capacity.ts';
import type { SystemVoltage } from '../battery/chemistry.ts';
import type { Times } from './relations.ts';
import { DEFAULT_LIMIT_SOURCE, type Sections } from './schema.ts';
import type { Battery, Limits, LimitsFrom, LogSettings, Photo, Session } from './session.ts';
import type { Path, Tree } from './yaml-tree.ts';

export interface ReadManifest {
  readonly folder: string;
  /** Without a fault. */
  readonly sections: Sections;
  readonly times: Times;
  readonly timezone: string;
  readonly photos: readonly Photo[];
  readonly tree: Tree;
}

export function assembleSession({ folder, sections, times, timezone, photos, tree }: ReadManifest): Session {
  const { session, vehicle, battery, install } = sections;
  return {
    folder,
    id: session.id,
    title: session.title,
    purpose: session.purpose,
    concern: session.concern,
    repairOrder: session.repair_order,
    technician: session.technician,
    timezone,
    language: session.language,
    languageAt: session.language === undefined ? undefined : tree.place(['session', 'language']),
    vehicle: {
      description: vehicle.description,
      model: vehicle.model,
      registration: vehicle.registration,
      vin: vehicle.vin,
      odometerKm: vehicle.odometer,
      powertrain: vehicle.powertrain,
      systemV: vehicle.system_voltage as SystemVoltage,
    },
    battery: assembleBattery(battery),
    log: assembleLog(sections.log, times.startMs, tree),
    limits: assembleLimits(sections.limits),
    limitsFrom:
      sections.limits?.from === undefined
        ? undefined
        : fromHealthy(sections.limits.from, tree.place(['limits', 'from'])),
    install: {
      fittedAtMs: times.fittedAtMs,
      removedAtMs: times.removedAtMs,
      memorySaver: install?.memory_saver && {
        used: install.memory_saver.used,
        voltageBeforeV: install.memory_saver.voltage_before,
        voltageDuringV: install.memory_saver.voltage_during,
      },
      clockChecked: install?.clock_checked,
      ampHoursCleared: install?.amp_hours_cleared,
      drawAtStartA: install?.draw_at_start,
      currentSensorPlace: install?.current_sensor?.place,
    },
    notes: (sections.notes ?? []).map((note, index) => ({ atMs: there(times.notesMs[index]), text: note.text })),
    photos,
    assessment: assembleAssessment(sections.assessment),
  };
}

/** One without a word in it is none. */
function assembleAssessment({ text, done = [], offers = [] }: NonNullable<Sections['assessment']> = {}) {
  return text === undefined && done.length + offers.length === 0 ? undefined : { text, done, offers };
}

function assembleBattery(battery: Sections['battery']): Battery {
  const { chemistry } = battery;
  const reserveCapacityMin = battery.reserve_capacity === undefined ? undefined : battery.reserve_capacity / 60;
  const likelyAh = reserveCapacityMin === undefined ? null : capacityFromReserveAh(chemistry, reserveCapacityMin);
  const isDerived = battery.capacity === undefined && likelyAh !== null;
  return {
    chemistry,
    capacityAh: isDerived ? likelyAh : battery.capacity,
    capacityFrom: isDerived ? 'reserve capacity' : undefined,
    coldCrankingA: battery.cold_cranking,
    crankingStandard: battery.cranking_standard,
    reserveCapacityMin,
    fitted: battery.fitted,
  };
}

function assembleLog(log: Sections['log'], startMs: number | undefined, tree: Tree): LogSettings {
  const { time, voltage, current, temperature } = log.columns;
  const at = (...path: Path) => tree.place(['log', ...path]);
  return {
    files: log.files,
    filesAt: log.files.map((_, index) => at('files', index)),
    delimiter: log.delimiter,
    decimal: log.decimal,
    skipRows: log.skip_rows ?? 0,
    startMs,
    stepS: log.step,
    holdS: log.hold,
    columns: {
      time: time && { ...time, at: at('columns', 'time', 'name') },
      voltage: { ...voltage, ...refOf(voltage), at: at('columns', 'voltage', 'name') },
      current: current && {
        ...refOf(current),
        unit: current.unit,
        positive: current.positive,
        accuracy: current.accuracy,
        rangeA: current.range,
        at: at('columns', 'current', 'name'),
      },
      temperature: temperature && { ...temperature, ...refOf(temperature), at: at('columns', 'temperature', 'name') },
    },
    channels: (log.channels ?? []).map((channel, index) => ({
      ...refOf(channel),
      label: channel.label ?? labelOf(refOf(channel).name),
      unit: channel.unit ?? 'V',
      activeAboveV: channel.active_above,
      activeBelowV: channel.active_below,
      measures: channel.measures ?? 'supply',
      at: at('channels', index, 'name'),
    })),
  };
}

interface Placed {
  readonly name?: string | number;
  readonly where?: Readonly<Record<string, string>>;
  readonly value?: string | number;
}

/** Quantities of a long log are called by what their rows hold. */
function refOf({ name, where, value }: Placed) {
  return { name: name ?? Object.values(where ?? {}).join(' / '), where, value };
}

function labelOf(name: string | number): string {
  return typeof name === 'number' ? `#${name}` : name;
}

function assembleLimits(limits: Sections['limits']): Limits {
  const charging = limits?.charging_voltage;
  const source = charging?.source ?? DEFAULT_LIMIT_SOURCE;
  const all: Limits = {
    parkedDraw: limits?.parked_draw,
    sleepWithin: limits?.sleep_within,
    standTime: limits?.stand_time,
    restingCharge: limits?.resting_charge,
    crankingVoltage: limits?.cranking_voltage,
    chargingVoltageMin: charging?.min === undefined ? undefined : { value: charging.min, source },
    chargingVoltageMax: charging?.max === undefined ? undefined : { value: charging.max, source },
  };
  // Only the limits that are set, so that whoever lists them need not ask.
  return Object.fromEntries(Object.entries(all).filter(([, limit]) => limit !== undefined));
}

/** The first stands for all where one must be named. */
function fromHealthy([id = '', ...more]: readonly string[], at: LimitsFrom['at']): LimitsFrom {
  return more.length > 0 ? { id, at, more } : { id, at };
}
