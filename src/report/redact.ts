/**
 * What a redacted report leaves out: whose vehicle it is, and whatever somebody wrote, named or photographed in their own
 * words. Done to the session before anything is made of it, so that no page, table or picture can still hold it. The words
 * that a verdict hangs on stay: the vehicle's description, labels of circuits, sources of limits, and the shop's own
 * repair order and technician; registration and VIN are taken out of them where they were written there too.
 */

import type { LogAccount } from '../log/block.ts';
import type { Session } from '../manifest/session.ts';

/** Shorter ones would be found in half of all words. */
const LEAST_SIGNS = 4;
const LEFT_OUT = '…';

/**
 * @param title stands in for the session's own: words of ours, such as those of its purpose
 * @param neutralId asked where the id holds the registration or VIN
 */
export async function redacted(
  session: Session,
  title: string,
  neutralId: () => string | Promise<string>,
): Promise<Session> {
  const { vehicle, install, limits, log } = session;
  const without = blot([vehicle.registration, vehicle.vin]);
  return {
    ...session,
    redacted: true,
    id: without(session.id) === session.id ? session.id : await neutralId(),
    title,
    concern: undefined,
    repairOrder: session.repairOrder && without(session.repairOrder),
    technician: session.technician && without(session.technician),
    vehicle: { ...vehicle, description: without(vehicle.description), registration: undefined, vin: undefined },
    log: { ...log, channels: log.channels.map((channel) => ({ ...channel, label: without(channel.label) })) },
    limits: Object.fromEntries(
      Object.entries(limits).map(([key, limit]) => [key, { ...limit, source: without(limit.source) }]),
    ),
    install: { ...install, currentSensorPlace: undefined },
    notes: [],
    photos: [],
  };
}

/** Names of files and texts of rows are left out too: a log is often called by the vehicle it is of. */
export function redactedLog(log: LogAccount): LogAccount {
  const names = new Map(log.files.map(({ name }, k) => [name, `log-${k + 1}${/\.[^./]*$/.exec(name)?.[0] ?? ''}`]));
  const renamed = (text: string) => [...names].reduce((said, [name, other]) => said.replaceAll(name, other), text);
  return {
    ...log,
    files: log.files.map((file) => ({ ...file, name: renamed(file.name) })),
    faults: log.faults.map((fault) => ({
      ...fault,
      file: fault.file === undefined ? undefined : renamed(fault.file),
      found: undefined,
    })),
    understood: log.understood.map(({ what, how }) => ({ what: renamed(what), how: renamed(how) })),
  };
}

/** Takes words out of a text, however their letters and digits are parted and written there. */
function blot(words: readonly (string | undefined)[]): (text: string) => string {
  const signs = words.map((word) => word?.match(/[\p{L}\p{N}]/gu) ?? []).filter((one) => one.length >= LEAST_SIGNS);
  const patterns = signs.map((one) => new RegExp(one.join('[^\\p{L}\\p{N}]*'), 'giu'));
  return (text) => patterns.reduce((said, pattern) => said.replaceAll(pattern, LEFT_OUT), text);
}
