/** Whether a report and a session are of one job, whoever asks. */
import type { Session } from '../manifest/session.ts';
import type { StoredReport } from './stored-report.ts';

/** The same vehicle and repair order. */
export function isSameJob({ session }: StoredReport, told: Pick<Session, 'repairOrder' | 'vehicle'>): boolean {
  const { vehicle, repair_order } = session;
  if (!repair_order || repair_order !== told.repairOrder) return false;
  // A redacted report tells no more of its vehicle than that.
  if (session.redacted) return true;
  const pairs = [
    [vehicle.vin, told.vehicle.vin],
    [vehicle.registration, told.vehicle.registration],
    [vehicle.description, told.vehicle.description],
  ];
  const known = pairs.find(([there, here]) => there && here);
  return known !== undefined && known[0] === known[1];
}

/** A log that both were made from makes them one session, wherever its folder lies by now. */
export function shareLogs({ log }: StoredReport, sha256s: Iterable<string>): boolean {
  const here = new Set(sha256s);
  return log.files.some(({ sha256 }) => here.has(sha256));
}
