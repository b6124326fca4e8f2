/** The manifest and the log's account in the report's own key names. */
import type { Analysis } from '../analysis/model.ts';
import { formatIso } from '../base/time.ts';
import type { Accuracy } from '../battery/uncertainty.ts';
import { LIMIT_KEYS, type LimitKey, type Session } from '../manifest/session.ts';
import type { Iso, ReportLog, ReportSession } from './contract/report.ts';
import { LEFT_OUT } from './redact.ts';
import type { Phrase } from './words/phrases.ts';

/** @param atS s since the epoch. */
export function iso(atS: number): Iso {
  return formatIso(atS * 1000);
}

/** Six significant figures: more than any logger gives, and the same on every machine. */
export function six(value: number): number {
  return Number(value.toPrecision(6));
}

export function sixOrNull(value: number | null | undefined): number | null {
  return value === null || value === undefined || !Number.isFinite(value) ? null : six(value);
}

/** Whole milliseconds. */
export function seconds(valueS: number): number {
  return Math.round(valueS * 1000) / 1000;
}

export function reportSession(session: Session, language: string, phrase: Phrase): ReportSession {
  const { vehicle, battery, install, limitsFrom } = session;
  const limits = Object.keys(LIMIT_KEYS).flatMap((key) => {
    const setting = session.limits[key as LimitKey];
    return setting
      ? [
          {
            key,
            value: setting.value,
            unit: LIMIT_KEYS[key as LimitKey].unit,
            source: phrase('source', setting.source),
          },
        ]
      : [];
  });
  return {
    id: session.id,
    title: session.title,
    purpose: session.purpose,
    concern: session.concern ?? null,
    repair_order: session.repairOrder ?? null,
    technician: session.technician ?? null,
    timezone: session.timezone,
    language: session.language ?? language,
    vehicle: {
      description: vehicle.description,
      model: vehicle.model ?? null,
      registration: vehicle.registration ?? null,
      vin: vehicle.vin ?? null,
      odometer_km: vehicle.odometerKm ?? null,
      powertrain: vehicle.powertrain,
      system_voltage_v: vehicle.systemV,
    },
    battery: {
      chemistry: battery.chemistry,
      capacity_ah: battery.capacityAh === undefined ? null : six(battery.capacityAh),
      capacity_from: battery.capacityFrom ?? null,
      cold_cranking_a: battery.coldCrankingA ?? null,
      cranking_standard: battery.crankingStandard ?? null,
      reserve_capacity_min: battery.reserveCapacityMin ?? null,
      fitted: battery.fitted ?? null,
    },
    limits,
    limits_from: limitsFrom
      ? {
          session: session.redacted ? null : limitsFrom.id,
          sessions: session.redacted ? [] : [limitsFrom.id, ...(limitsFrom.more ?? [])],
          left: Object.entries(limitsFrom.left ?? {}).map(([key, reason]) => ({ key, reason })),
        }
      : null,
    install: {
      fitted_at: install.fittedAtMs === undefined ? null : iso(install.fittedAtMs / 1000),
      removed_at: install.removedAtMs === undefined ? null : iso(install.removedAtMs / 1000),
      memory_saver: install.memorySaver
        ? {
            used: install.memorySaver.used,
            voltage_before_v: install.memorySaver.voltageBeforeV ?? null,
            voltage_during_v: install.memorySaver.voltageDuringV ?? null,
          }
        : null,
      clock_checked: install.clockChecked ?? null,
      amp_hours_cleared: install.ampHoursCleared ?? null,
      draw_at_start_a: install.drawAtStartA ?? null,
      current_sensor_place: install.currentSensorPlace ?? null,
    },
    columns: reportColumns(session),
    notes: session.notes.map((note) => ({ at: iso(note.atMs / 1000), text: note.text })),
    photos: session.photos.map(({ file }) => file),
    photos_taken: session.photos.map(({ file, atMs, atFrom, text }) => ({
      file,
      at: atMs === undefined ? null : iso(atMs / 1000),
      time_from: atFrom ?? null,
      text: text ?? null,
    })),
    assessment: reportAssessment(session),
    redacted: session.redacted ?? false,
  };
}

function reportAssessment({ assessment }: Session): ReportSession['assessment'] {
  if (!assessment) return null;
  return {
    text: assessment.text ?? null,
    done: [...assessment.done],
    offers: assessment.offers.map(({ work, effort, price }) => ({
      work,
      effort: effort ?? null,
      price: price ?? null,
    })),
  };
}

function reportColumns(session: Session): ReportSession['columns'] {
  const { voltage, current, temperature, time } = session.log.columns;
  const one = (role: string, name: string | number, unit: string, accuracy?: Accuracy, accuracyUnit = '') => ({
    role,
    name: session.redacted && typeof name === 'string' ? LEFT_OUT : String(name),
    unit,
    accuracy: accuracy ? stated(accuracy, accuracyUnit) : null,
    accuracy_stated: accuracy
      ? { relative: six(accuracy.relative), absolute: six(accuracy.absolute), unit: accuracyUnit }
      : null,
  });
  return [
    ...(time ? [one('time', time.name, '')] : []),
    one('voltage', voltage.name, voltage.unit, voltage.accuracy, 'V'),
    ...(current ? [one('current', current.name, current.unit, current.accuracy, 'A')] : []),
    ...(temperature ? [one('temperature', temperature.name, temperature.unit, temperature.accuracy, '°C')] : []),
    ...session.log.channels.map((channel) => one(channel.label, channel.name, channel.unit)),
  ];
}

/** `0.1 % + 0.01 V` */
function stated({ relative, absolute }: Accuracy, unit: string): string {
  return `${six(relative * 100)} % + ${six(absolute)} ${unit}`;
}

export function reportLog(analysis: Analysis, phrase: Phrase): ReportLog {
  const { log } = analysis;
  return {
    files: log.files.map(({ name, bytes, sha256, rows }) => ({ name, bytes, sha256, rows })),
    rows: log.rows,
    rows_rejected: log.rowsRejected,
    start: iso(analysis.start),
    end: iso(analysis.end),
    covered_s: seconds(analysis.coveredS),
    missing_s: seconds(analysis.missingS),
    median_step_s: six(analysis.medianStepS),
    faults: log.faults.map((fault) => ({
      kind: fault.kind,
      at: fault.at === null ? null : iso(fault.at),
      count: fault.count,
      seconds: seconds(fault.seconds),
      file: fault.file ?? null,
      line: fault.line ?? null,
      found: fault.found === undefined ? null : phrase('found', fault.found),
    })),
    understood: log.understood.map(({ what, how }) => ({
      what: phrase('understood', what),
      how: how
        .split(', ')
        .map((one) => phrase('understood', one))
        .join(', '),
    })),
  };
}
