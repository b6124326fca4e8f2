/**
 * The healthy vehicles that a session is held against: those that its `limits.from` names, or else the archive's healthy baselines of its
 * model. A baseline that names none is held against nobody in its own report, or two of them would wait for each other; the model's
 * page shows where it lies.
 */
import type { Session } from '../../manifest/session.ts';
import { type Healthy, modelValues } from '../../report/model/values.ts';
import type { ArchiveOf } from '../baseline.ts';
import type { Summary } from '../summary/summary.ts';
import { lastOfEach, modelKey, modelsOf, normalOnes, type OfOneVehicle, vehicleKey } from './models.ts';

/** Where healthy vehicles are looked for. */
export interface ModelArchive extends Pick<ArchiveOf, 'read'> {
  /** Of all its sessions. */
  summaries(): Promise<readonly Summary[]>;
}

/** Whether the archive's baselines must be there first. */
export const asksModel = ({ purpose, vehicle, limitsFrom }: Session) =>
  !limitsFrom && purpose !== 'baseline' && vehicle.model !== undefined;

/** Null where there is none. @param session as its manifest tells it: a redacted one does not say which vehicle is its own */
export async function healthyOf(session: Session, archive: ModelArchive): Promise<Healthy | null> {
  const own = vehicleKey(asReported(session));
  const { limitsFrom } = session;
  if (limitsFrom) {
    const read = await Promise.all([limitsFrom.id, ...(limitsFrom.more ?? [])].map((id) => archive.read(id)));
    const reports = read.flatMap((one) => (one && 'report' in one ? [one.report] : []));
    const others = lastOfEach(reports.toSorted((a, b) => (a.log.start < b.log.start ? -1 : 1)));
    return some(
      'limits',
      others.flatMap((one) => (vehicleKey(one) === own ? [] : [modelValues(one.portrait)])),
    );
  }
  if (!asksModel(session)) return null;
  const key = modelKey(asReported(session).session.vehicle);
  const [model] = modelsOf((await archive.summaries()).filter((one) => modelKey(one.session.vehicle) === key));
  const others = normalOnes(model?.healthy ?? []).filter((one) => vehicleKey(one) !== own);
  return some(
    'model',
    others.map(({ ofModel }) => ofModel),
  );
}

const some = (from: Healthy['from'], vehicles: Healthy['vehicles']): Healthy | null =>
  vehicles.length > 0 ? { from, vehicles } : null;

const asReported = ({
  id,
  vehicle,
}: Session): OfOneVehicle & { session: { vehicle: Parameters<typeof modelKey>[0] } } => ({
  session: {
    id,
    vehicle: {
      model: vehicle.model ?? null,
      registration: vehicle.registration ?? null,
      vin: vehicle.vin ?? null,
      powertrain: vehicle.powertrain,
      system_voltage_v: vehicle.systemV,
    },
  },
});
