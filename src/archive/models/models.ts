/**
 * Vehicles of one model, what is normal for it, and how each vehicle lies to that. Normal is what its healthy baselines showed: one
 * value of each vehicle, as a range that holds most vehicles where so many were seen that the statistics allow one. What lies
 * outside is unusual, with the probability; it is no fault.
 */
import { hexHashOf } from '../../base/bytes.ts';
import { lastOf } from '../../base/there.ts';
import { chanceOf, type NormalRange, normalRange } from '../../battery/tolerance.ts';
import type { ModelValue, Summary } from '../summary/summary.ts';
import { plainName } from '../vehicles/vehicles.ts';

/** Vehicles alike differ by this much at least, of draws, lengths and charges; V for each 12 V. Common practice, no source. */
const LEAST_SHARE = 0.03;
const LEAST_V = 0.02;

export interface Model {
  /** Of its page, below `models/`. */
  readonly file: string;
  /** As last written. */
  readonly name: string;
  /** Oldest first. */
  readonly sessions: readonly Summary[];
  /** The last healthy baseline of each vehicle. */
  readonly healthy: readonly Summary[];
}

/** One figure of one vehicle, held against the others. */
export interface Placed extends ModelValue {
  readonly range: NormalRange;
  /** Null where too few vehicles were seen for one. */
  readonly chance: number | null;
  /** False where too few were seen to say so. */
  readonly isOutside: boolean;
}

/** A figure of the model, in words. */
export interface FigureRow {
  readonly key: string;
  readonly name: string;
  readonly n: string;
  readonly range: string;
  readonly method: string;
}

/** In order of names. A model of another powertrain or voltage is another one, though it is called the same. */
export function modelsOf(summaries: readonly Summary[]): Model[] {
  const groups = new Map<string, Summary[]>();
  for (const one of summaries) {
    const key = modelKey(one.session.vehicle);
    if (key === null) continue;
    const own = groups.get(key);
    if (own) own.push(one);
    else groups.set(key, [one]);
  }
  return [...groups].map(([key, own]) => modelOf(key, own)).sort((a, b) => (a.file < b.file ? -1 : 1));
}

/** Null where no model was given. */
export function modelKey(vehicle: Summary['session']['vehicle']): string | null {
  const name = plainName(vehicle.model);
  return name === null ? null : `${name}:${vehicle.powertrain}:${vehicle.system_voltage_v}`;
}

function modelOf(key: string, own: readonly Summary[]): Model {
  const sessions = own.toSorted((a, b) => (a.log.start < b.log.start ? -1 : 1));
  const file = fileOf(key);
  return { file, name: lastOf(sessions).session.vehicle.model ?? '', sessions, healthy: lastOfEach(sessions) };
}

/** The page of a vehicle's model, below `models/`; null where it has none. */
export function modelFile(vehicle: Summary['session']['vehicle']): string | null {
  const key = modelKey(vehicle);
  return key === null ? null : fileOf(key);
}

function fileOf(key: string): string {
  const readable = key
    .replace(/:.*$/, '')
    .replaceAll(/[^A-Za-z0-9]/g, '')
    .toLowerCase()
    .slice(0, 24);
  return `${[readable, hexHashOf(key).slice(0, 8)].filter(Boolean).join('-')}.html`;
}

const isHealthy = ({ session, found }: Summary) =>
  session.purpose === 'baseline' && found.every(({ status }) => status !== 'fault');

/** A baseline without registration and VIN stands for a vehicle of its own. */
export const vehicleKey = ({ session }: Summary) =>
  plainName(session.vehicle.vin) ?? plainName(session.vehicle.registration) ?? `session:${session.id}`;

function lastOfEach(sessions: readonly Summary[]): Summary[] {
  return [...new Map(sessions.filter(isHealthy).map((one) => [vehicleKey(one), one])).values()];
}

export const valueKey = ({ figure, of }: Pick<ModelValue, 'figure' | 'of'>) => `${figure}\0${of ?? ''}`;

/** Values of a figure, one of each vehicle, without that of `but`. */
export function valuesOf(healthy: readonly Summary[], key: string, but: string | null = null): number[] {
  return healthy.flatMap((one) => {
    if (vehicleKey(one) === but) return [];
    const found = one.ofModel.find((value) => valueKey(value) === key);
    return found ? [found.value] : [];
  });
}

/** Of which vehicles differ by factors rather than by amounts. */
const byFactors = (unit: ModelValue['unit'], values: readonly number[]) =>
  (unit === 'A' || unit === 's' || unit === 'Ah') && values.every((value) => value > 0);

/** The range of a figure; null where no vehicle has it. */
export function rangeOf({ unit }: ModelValue, values: readonly number[], systemV: number): NormalRange | null {
  if (values.length === 0) return null;
  const factors = byFactors(unit, values);
  return normalRange(values, leastSd(unit, values, systemV, factors), factors);
}

function leastSd(unit: ModelValue['unit'], values: readonly number[], systemV: number, factors: boolean): number {
  if (factors) return LEAST_SHARE;
  if (unit === 'V') return (LEAST_V * systemV) / 12;
  return LEAST_SHARE * Math.max(...values.map(Math.abs));
}

/** Where the figures of a session lie among the other vehicles of its model, the most unusual first. */
export function placesOf(summary: Summary, healthy: readonly Summary[]): Placed[] {
  const systemV = summary.session.vehicle.system_voltage_v;
  return summary.ofModel
    .flatMap((value) => {
      const others = valuesOf(healthy, valueKey(value), vehicleKey(summary));
      const range = rangeOf(value, others, systemV);
      if (!range) return [];
      const isKnown = range.method !== 'seen';
      const factors = byFactors(value.unit, [value.value, ...others]);
      const logs = factors ? others.map(Math.log) : others;
      const at = factors ? Math.log(value.value) : value.value;
      const chance = isKnown ? chanceOf(at, logs, leastSd(value.unit, others, systemV, factors)) : null;
      const isOutside = isKnown && (value.value < range.low || value.value > range.high);
      return [{ ...value, range, chance, isOutside }];
    })
    .sort((a, b) => (a.chance ?? 1) - (b.chance ?? 1));
}
