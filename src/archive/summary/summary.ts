/**
 * What the archive's pages show of a session, and no more: a hundredth of its report. With it an archive of thousands is
 * listed, grouped and searched without reading their reports again.
 */
import { restVoltageV } from '../../battery/rest-voltage.ts';
import type { Status } from '../../checks/check.ts';
import { type ModelValue, modelValues } from '../../report/model/values.ts';
import { headlines, MARK_OF } from '../../report/summary.ts';
import { MEASURES, type MeasureValue, reading } from '../measures.ts';
import type { StoredReport } from '../stored-report.ts';

/** What a vehicle is followed by over the years. */
export const FOLLOWED = MEASURES.filter(({ followed }) => followed);

export interface Figure extends MeasureValue {
  /** In the measure's unit; null where it was held against none. */
  readonly limit: number | null;
}

/** The parts that a summary has in common with a report have the report's names. */
export interface Summary {
  readonly session: Pick<
    StoredReport['session'],
    'id' | 'title' | 'purpose' | 'concern' | 'repair_order' | 'technician' | 'timezone'
  > & {
    readonly vehicle: Pick<
      StoredReport['session']['vehicle'],
      'description' | 'model' | 'registration' | 'vin' | 'odometer_km' | 'powertrain' | 'system_voltage_v'
    >;
  };
  readonly log: Pick<StoredReport['log'], 'start'>;
  /** Of the whole. */
  readonly status: Status;
  /** Titles of the leading findings, or the answer where there are none. */
  readonly headlines: readonly string[];
  /** Checks that found something. */
  readonly found: readonly Pick<StoredReport['findings'][number], 'check' | 'name' | 'status'>[];
  /** By the measure's name, those that vehicles are followed by. */
  readonly figures: Readonly<Record<string, Figure>>;
  /** How long the vehicle may stand, s; null where its log does not tell. */
  readonly standS: number | null;
  /** What can be held against others of the model, by the figure's name and what it is of; none where no model was given. */
  readonly ofModel: readonly ModelValue[];
}

export function summaryOf(report: StoredReport): Summary {
  const { session, log, findings } = report;
  const { id, title, purpose, concern, repair_order, technician, timezone } = session;
  const { description, model, registration, vin, odometer_km, powertrain, system_voltage_v } = session.vehicle;
  const { situation, findings: led } = headlines(findings);
  const titles = led.map((finding) => finding.title);
  return {
    session: {
      ...{ id, title, purpose, concern, repair_order, technician, timezone },
      vehicle: { description, model, registration, vin, odometer_km, powertrain, system_voltage_v },
    },
    log: { start: log.start },
    status: MARK_OF[situation],
    headlines: titles.length > 0 ? titles : [report.summary.answer],
    found: findings.flatMap(({ check, name, status }) =>
      status === 'fault' || status === 'watch' ? [{ check, name, status }] : [],
    ),
    figures: Object.fromEntries(FOLLOWED.map(({ name, unit }) => [name, figure(name, unit, report)])),
    standS: findings.find(({ check }) => check === 'stand-time')?.measured?.value ?? null,
    ofModel: model === null ? [] : modelValues(report.portrait),
  };
}

const NONE: Figure = { value: null, uncertainty: null, limit: null };

export const figureOf = ({ figures }: Summary, name: string): Figure => figures[name] ?? NONE;

function figure(name: string, measureUnit: string, report: StoredReport): Figure {
  const { value, uncertainty, limit } = reading(name, report);
  return { value, uncertainty, limit: limit ? limitIn(measureUnit, limit, report) : null };
}

/** A limit of the state of charge is one of the rested voltage too, by the table that the check reads. */
function limitIn(unit: string, limit: { value: number; unit: string }, { session }: StoredReport): number | null {
  if (limit.unit === unit) return limit.value;
  if (unit !== 'V' || limit.unit !== '1') return null;
  return restVoltageV(session.battery.chemistry, session.vehicle.system_voltage_v, limit.value);
}
