/** Which sessions are of one vehicle: told by VIN and registration, never by a description that many vehicles share. */
import { hexHashOf } from '../../base/bytes.ts';
import { lastOf } from '../../base/there.ts';
import type { StoredReport } from '../stored-report.ts';

/** What a session must say for it; summaries and reports do. */
interface OfVehicle {
  readonly session: { readonly vehicle: { readonly registration: string | null; readonly vin: string | null } };
  readonly log: { readonly start: string };
}

export interface Vehicle<Session extends OfVehicle = StoredReport> {
  /** Name of its folder below `vehicles/`: the same in every build, legal on every system. */
  readonly folder: string;
  /** Registration, else VIN, as last written. */
  readonly name: string;
  /** Oldest first. */
  readonly sessions: readonly Session[];
}

/** `171-D 12345` and `171 d-12345` are one registration. */
export const plainName = (text: string | null) => text?.toUpperCase().replaceAll(/[^\p{L}\p{N}]/gu, '') || null;

/** Sessions without VIN and registration belong to no vehicle. In order of names. */
export function vehiclesOf<Session extends OfVehicle>(reports: readonly Session[]): Vehicle<Session>[] {
  const vins = new Map<string, Set<string>>();
  for (const { session } of reports) {
    const [vin, registration] = [plainName(session.vehicle.vin), plainName(session.vehicle.registration)];
    if (vin && registration) vins.set(registration, (vins.get(registration) ?? new Set()).add(vin));
  }
  const groups = new Map<string, Session[]>();
  for (const report of reports) {
    const key = keyOf(report, vins);
    if (!key) continue;
    const own = groups.get(key);
    if (own) own.push(report);
    else groups.set(key, [report]);
  }
  return [...groups].map(([key, own]) => vehicleOf(key, own)).sort((a, b) => (a.folder < b.folder ? -1 : 1));
}

/** A registration that one VIN alone goes with stands for that VIN; one that has moved to another vehicle for itself. */
function keyOf({ session }: OfVehicle, vins: ReadonlyMap<string, ReadonlySet<string>>): string | null {
  const [vin, registration] = [plainName(session.vehicle.vin), plainName(session.vehicle.registration)];
  if (vin) return `vin:${vin}`;
  if (!registration) return null;
  const known = vins.get(registration);
  return known?.size === 1 ? `vin:${[...known][0]}` : `registration:${registration}`;
}

function vehicleOf<Session extends OfVehicle>(key: string, reports: readonly Session[]): Vehicle<Session> {
  const sessions = reports.toSorted((a, b) => (a.log.start < b.log.start ? -1 : 1));
  const { vehicle } = lastOf(sessions).session;
  const name = vehicle.registration ?? vehicle.vin ?? '';
  // From the key alone, so that the address stays when sessions are added; the hash keeps names apart and off Windows' list.
  const readable = key
    .replace(/^\w+:/, '')
    .replaceAll(/[^A-Za-z0-9]/g, '')
    .toLowerCase()
    .slice(0, 24);
  const hash = hexHashOf(key).slice(0, 8);
  return { folder: [readable, hash].filter(Boolean).join('-'), name, sessions };
}
