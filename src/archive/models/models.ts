/**
 * Vehicles of one model, what is normal for it, and how each vehicle lies to that. Normal is what its healthy baselines showed: one
 * value of each vehicle, as a range that holds most vehicles where so many were seen that the statistics allow one. What lies
 * outside is unusual, with the probability; it is no fault.
 */
import { hexHashOf } from '../../base/bytes.ts';
import { lastOf } from '../../base/there.ts';
import { type Placed, placesOf } from '../../report/model/places.ts';
import { valueKey } from '../../report/model/values.ts';
import type { Summary } from '../summary/summary.ts';
import { plainName } from '../vehicles/vehicles.ts';

/** What is rarer than this among the others is no part of what is normal. Common practice, no source. */
const ODD = 0.001;

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
export function modelKey(
  vehicle: Pick<Summary['session']['vehicle'], 'model' | 'powertrain' | 'system_voltage_v'>,
): string | null {
  const name = plainName(vehicle.model);
  return name === null ? null : `${name}:${vehicle.powertrain}:${vehicle.system_voltage_v}`;
}

function modelOf(key: string, own: readonly Summary[]): Model {
  const sessions = own.toSorted((a, b) => (a.log.start < b.log.start ? -1 : 1));
  const file = fileOf(key);
  return {
    file,
    name: lastOf(sessions).session.vehicle.model ?? '',
    sessions,
    healthy: lastOfEach(sessions.filter(isHealthy)),
  };
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

/** What a session must say of whose it is; summaries and reports do. */
export interface OfOneVehicle {
  readonly session: {
    readonly id: string;
    readonly vehicle: { readonly registration: string | null; readonly vin: string | null };
  };
}

/** A baseline without registration and VIN stands for a vehicle of its own. */
export const vehicleKey = ({ session }: OfOneVehicle) =>
  plainName(session.vehicle.vin) ?? plainName(session.vehicle.registration) ?? `session:${session.id}`;

/** Of sessions in order of time the last of each vehicle. */
export const lastOfEach = <One extends OfOneVehicle>(sessions: readonly One[]): One[] => [
  ...new Map(sessions.map((one) => [vehicleKey(one), one])).values(),
];

/** What the others showed, without the vehicle itself. */
const othersOf = (healthy: readonly Summary[], but: Summary) =>
  healthy.filter((one) => vehicleKey(one) !== vehicleKey(but));

/**
 * The healthy vehicles without the figures by which one of them lies far outside of what all others show: an odd one would widen the very
 * range that it is odd by.
 */
export function normalOnes(healthy: readonly Summary[]): Summary[] {
  return healthy.map((one) => {
    const places = placesOf(
      one.ofModel,
      othersOf(healthy, one).map(({ ofModel }) => ofModel),
      one.session.vehicle.system_voltage_v,
    );
    const odd = new Set(places.filter(({ isOutside, chance }) => isOutside && (chance ?? 1) < ODD).map(valueKey));
    return odd.size === 0 ? one : { ...one, ofModel: one.ofModel.filter((value) => !odd.has(valueKey(value))) };
  });
}

/** Where the figures of a session lie among the other vehicles of its model, the most unusual first. @param normal `normalOnes` */
export const placedIn = (summary: Summary, normal: readonly Summary[]): Placed[] =>
  placesOf(
    summary.ofModel,
    othersOf(normal, summary).map(({ ofModel }) => ofModel),
    summary.session.vehicle.system_voltage_v,
  );
