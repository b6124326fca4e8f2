/**
 * What a redacted report leaves out: whose vehicle it is, and whatever somebody wrote, named or photographed in their own
 * words. Done to the session before anything is made of it, so that no page, table or picture can still hold it. The words
 * that a verdict hangs on stay: the vehicle's description, labels of circuits, sources of limits, and the shop's own
 * repair order and technician; registration and VIN are taken out of them where they were written there too.
 */

import { plainText } from '../base/shown.ts';
import { there } from '../base/there.ts';
import type { LogAccount } from '../log/block.ts';
import type { Session } from '../manifest/session.ts';

/** Shorter ones would be found in half of all words: they are looked for as words of their own. */
const LEAST_SIGNS = 4;
export const LEFT_OUT = '…';
/** What may stay of a log's name. */
const KNOWN_ENDING = /(?:\.(?:csv|tsv|txt|parquet))?(?:\.gz)?$/i;

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
    assessment: undefined,
  };
}

/** Names of files and texts of rows are left out too: a log is often called by the vehicle it is of. */
export function redactedLog(log: LogAccount): LogAccount {
  const names = log.files.map(({ name }) => name);
  const neutral = names.map((name, k) => `log-${k + 1}${KNOWN_ENDING.exec(name)?.[0].toLowerCase() ?? ''}`);
  const renamed = renamer(names, neutral);
  const nameOf = (name: string) => there(neutral[names.indexOf(name)]);
  return {
    ...log,
    files: log.files.map((file) => ({ ...file, name: nameOf(file.name) })),
    faults: log.faults.map((fault) => ({
      ...fault,
      file: fault.file === undefined ? undefined : nameOf(fault.file),
      found: undefined,
    })),
    // A pattern of times may hold words of its own.
    understood: log.understood.map(({ what, how }) => ({
      what: renamed(what),
      how: renamed(how).replaceAll(/\[[^\]]*\]/g, `[${LEFT_OUT}]`),
    })),
  };
}

/** Whole names at once, the longest first: one may hold another, also as a message shortens it. */
function renamer(names: readonly string[], neutral: readonly string[]): (text: string) => string {
  const other = new Map(names.flatMap((name, k) => [name, plainText(name)].map((said) => [said, neutral[k]] as const)));
  const longestFirst = [...other.keys()].sort((a, b) => b.length - a.length);
  if (longestFirst.length === 0) return (text) => text;
  const any = new RegExp(
    whole(longestFirst.map((name) => name.replaceAll(/[\\^$.*+?()[\]{}|/]/g, '\\$&')).join('|')),
    'gu',
  );
  return (text) => text.replaceAll(any, (name) => other.get(name) ?? LEFT_OUT);
}

/** Takes words out of a text, however their letters and digits are parted and written there; short ones by themselves. */
function blot(words: readonly (string | undefined)[]): (text: string) => string {
  const signs = words.map((word) => word?.match(/[\p{L}\p{N}]/gu) ?? []).filter((one) => one.length > 0);
  const patterns = signs.map((one) => {
    const spelt = one.join('[^\\p{L}\\p{N}]*');
    return new RegExp(one.length < LEAST_SIGNS ? whole(spelt) : spelt, 'giu');
  });
  return (text) => patterns.reduce((said, pattern) => said.replaceAll(pattern, LEFT_OUT), text);
}

/** Not within a longer word. */
const whole = (pattern: string) => `(?<![\\p{L}\\p{N}])(?:${pattern})(?![\\p{L}\\p{N}])`;
