/** Whether a session may take the place of a report that is there under its id: only its own, or where it is told to. */
import { createHash } from 'node:crypto';
import { readdir } from 'node:fs/promises';
import { join, relative, resolve } from 'node:path';
import { UserError } from '../base/problem.ts';
import { plainText } from '../base/shown.ts';
import type { Session } from '../manifest/session.ts';
import { notedFolder } from './made-from.ts';
import { isSameJob } from './same-job.ts';
import { readInArchive } from './stored.ts';
import type { Read } from './stored-report.ts';

/** A report that can be read, and its folder's name. */
export type Stored = Extract<Read, { report: unknown }>;

/** Names a session folder as seen from the archive, without telling its name. */
export function folderKey(out: string, folder: string): string {
  return createHash('sha256')
    .update(relative(resolve(out), resolve(folder)).replaceAll('\\', '/'))
    .digest('hex');
}

export interface Claim {
  /** As it is reported. */
  readonly session: Session;
  /** Its manifest as written. */
  readonly asWritten: Session;
  /** As the call names it. */
  readonly folder: string;
  readonly out: string;
}

/**
 * The report that stands where this session's would, and is not known to be its own; null where there is none.
 * Own is what came from the same folder, or is of the same vehicle and repair order.
 */
export async function otherSession({ session, asWritten, folder, out }: Claim): Promise<Stored | null> {
  const names = await readdir(join(out, 'sessions')).catch(() => []);
  const alike = names.filter((name) => name.toLowerCase() === session.id.toLowerCase());
  for (const name of alike) {
    const read = await readInArchive(out, name);
    // A report that cannot be read is nobody's.
    if (!('report' in read)) continue;
    const inCaseOnly = name !== session.id;
    if (!inCaseOnly && (await isOwn(read, asWritten, folder, out))) continue;
    return read;
  }
  return null;
}

async function isOwn(
  { folder: id, report }: Stored,
  asWritten: Session,
  folder: string,
  out: string,
): Promise<boolean> {
  if ((await notedFolder(join(out, 'sessions', id))) === folderKey(out, folder)) return true;
  return isSameJob(report, asWritten);
}

/** What to say of the two. */
export function refusal({ folder: id, report }: Stored, { asWritten, session, folder, out }: Claim): UserError {
  const { vehicle, repair_order, title } = report.session;
  const there = words([
    vehicle.description,
    vehicle.registration,
    repair_order && `repair order ${repair_order}`,
    `"${title}"`,
  ]);
  const here = words([
    asWritten.vehicle.description,
    asWritten.vehicle.registration,
    asWritten.repairOrder && `repair order ${asWritten.repairOrder}`,
    `"${asWritten.title}"`,
  ]);
  const same =
    id === session.id ? `session.id "${session.id}" is` : `session.id "${session.id}" is, but for capital letters,`;
  const message = `${same} that of another session of ${out}: ${there}; log from ${report.log.start.slice(0, 10)}. This one (${plainText(folder)}) is ${here}. Give it an id of its own, or say --replace if it is to take the other's place.`;
  return new UserError([{ file: 'session.yaml', path: 'session.id', message }]);
}

function words(all: readonly (string | null | undefined)[]): string {
  return all.flatMap((one) => (one ? [plainText(one)] : [])).join(', ');
}
