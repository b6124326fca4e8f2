/**
 * A folder to hand out: some sessions of an archive as an archive of their own, with its index, their vehicles' pages and
 * the comparisons among them. It is made from those sessions alone, so nothing of any other can be in it; what knows of all
 * sessions (`tables/`, the whole index) is not copied.
 */
import { existsSync, lstatSync, realpathSync } from 'node:fs';
import { cp, readdir } from 'node:fs/promises';
import { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { withFreshFolder } from '../base/disk/replace-folder.ts';
import { nearest } from '../base/nearest.ts';
import { UserError } from '../base/problem.ts';
import { shown } from '../base/shown.ts';
import { pairName } from './comparison/pairs.ts';
import { comparisonsIn, pairsThere } from './comparison/pairs-there.ts';
import { type IndexOptions, writeArchiveIndex } from './index-page.ts';
import { MADE_FROM_FILE } from './made-from.ts';
import { refuseLinks } from './no-links.ts';
import { readArchive } from './stored.ts';
import type { Archive, StoredReport } from './stored-report.ts';
import { plainName, type Vehicle, vehiclesOf } from './vehicles/vehicles.ts';

export interface HandOut {
  /** What went in, in order of folder names. */
  readonly sessions: readonly StoredReport[];
  /** Sessions that did not go in, and whose id stands in a report that did, as the source of its limits. */
  readonly named: readonly { readonly in: string; readonly id: string }[];
}

/**
 * Writes `into`, whole or not at all. Throws a `UserError` where a word names no session, or `into` holds something.
 *
 * @param wanted ids of sessions; a registration or VIN stands for all sessions of that vehicle
 */
export async function writeHandOut(
  outDir: string,
  wanted: readonly string[],
  into: string,
  options: IndexOptions,
): Promise<HandOut> {
  refuseLinks(outDir);
  if (isWithin(truePath(into), truePath(outDir)))
    throw new UserError(`${into} lies in the archive itself. Expected: a folder outside of it.`);
  await refuseIfFull(into);
  const chosen = choose(await readArchive(outDir), wanted, outDir);
  await withFreshFolder(resolve(into), async (fresh) => {
    for (const id of chosen.keys()) await copyFolder(join(outDir, 'sessions', id), join(fresh, 'sessions', id));
    for (const pair of await pairsAmong(outDir, chosen))
      await copyFolder(join(comparisonsIn(outDir), pair), join(comparisonsIn(fresh), pair));
    await writeArchiveIndex(fresh, options);
  });
  const sessions = [...chosen.values()];
  const named = sessions.flatMap(({ session: { id, limits_from } }) =>
    [...new Set([...(limits_from?.session ? [limits_from.session] : []), ...(limits_from?.sessions ?? [])])]
      .filter((from) => !chosen.has(from))
      .map((from) => ({ in: id, id: from })),
  );
  return { sessions, named };
}

/** With every link on the way resolved, also to what is not there yet. */
function truePath(path: string): string {
  const full = resolve(path);
  if (existsSync(full)) return realpathSync(full);
  const above = dirname(full);
  return above === full ? full : join(truePath(above), basename(full));
}

function isWithin(path: string, folder: string): boolean {
  const way = relative(folder, path);
  return way === '' || !(way.startsWith('..') || isAbsolute(way));
}

async function refuseIfFull(into: string): Promise<void> {
  const found = await readdir(into).catch((error: NodeJS.ErrnoException) => {
    if (error.code === 'ENOENT') return [];
    if (error.code === 'ENOTDIR') throw new UserError(`${into} is a file. Expected: a folder that is new or empty.`);
    throw error;
  });
  if (found.length > 0)
    throw new UserError(
      `${into} is not empty, and what is in it might be of somebody else. Expected: a folder that is new or empty.`,
    );
}

/** By folder name, in its order. */
function choose({ sessions, damaged }: Archive, wanted: readonly string[], outDir: string): Map<string, StoredReport> {
  const byFolder = new Map(sessions.map(({ folder, report }) => [folder, report]));
  const vehicles = vehiclesOf([...byFolder.values()]);
  const chosen = new Set<StoredReport>();
  for (const word of wanted) {
    const broken = damaged.find(({ folder }) => folder === word);
    if (broken) throw new UserError(`${word}: ${broken.message}`);
    const session = byFolder.get(word);
    const found = session ? [session] : vehicles.find((vehicle) => isCalled(vehicle, word))?.sessions;
    if (!found) {
      const near = nearest(word, [...byFolder.keys()]);
      throw new UserError(
        `There is no session or vehicle ${shown(word)} in ${outDir}.${near ? ` Did you mean ${near}?` : ''} Expected: ids of sessions, or a vehicle's registration or VIN.`,
      );
    }
    for (const report of found) chosen.add(report);
  }
  return new Map([...byFolder].filter(([, report]) => chosen.has(report)));
}

function isCalled({ sessions }: Vehicle, word: string): boolean {
  const name = plainName(word);
  const names = sessions.flatMap(({ session: { vehicle } }) => [vehicle.registration, vehicle.vin].map(plainName));
  return name !== null && names.includes(name);
}

async function pairsAmong(outDir: string, chosen: ReadonlyMap<string, unknown>): Promise<string[]> {
  const ids = [...chosen.keys()];
  const among = new Set(ids.flatMap((before) => ids.map((after) => pairName(before, after))));
  return (await pairsThere(outDir)).filter((pair) => among.has(pair));
}

/**
 * Files and folders alone: a link would show whoever gets it where it leads to. Without our note of what it was made from,
 * which is of use only where it was made.
 */
function copyFolder(from: string, to: string): Promise<void> {
  const filter = (path: string) => {
    const found = lstatSync(path);
    return (found.isFile() || found.isDirectory()) && basename(path) !== MADE_FROM_FILE;
  };
  return cp(from, to, { recursive: true, filter });
}
