/** `standstill watch`: builds the sessions that are dropped into a folder, until it is stopped. */
import { readdir, stat } from 'node:fs/promises';
import { join } from 'node:path';
import { BaselineError } from '../archive/baseline.ts';
import { createArrivals } from '../archive/watch/arrivals.ts';
import { createAwaitedReports } from '../archive/watch/awaited-reports.ts';
import { UserError } from '../base/problem.ts';
import { MANIFEST } from '../manifest/read-session.ts';
import { build } from './build.ts';
import type { BuildOptions } from './build-session.ts';
import { failureText } from './failure.ts';
import type { Terminal } from './terminal.ts';

/** How long nothing may change in a folder before it counts as whole, and how often is looked, ms. */
const SETTLE_MS = 10_000;
const LOOK_MS = 2000;

/** What a test stands in for: when to stop, and how time passes. */
export interface WatchWorld {
  readonly signal: AbortSignal;
  readonly now: () => number;
  /** Resolves early where `signal` is given. */
  readonly sleep: (ms: number) => Promise<void>;
}

/**
 * Looks again and again rather than asking the system to be told: network shares tell nothing. What goes wrong with one
 * session, or with the share for a while, is said and does not end the watch. A session whose baseline arrives later than
 * itself is tried again when that one's report is there. Once it is stopped, the sessions that are
 * being built are finished, the others are left for the next watch, and the answer is 0.
 */
export async function watch(folder: string, options: BuildOptions, terminal: Terminal, world: WatchWorld): Promise<0> {
  const own = await stat(join(folder, MANIFEST)).catch(() => null);
  if (own)
    throw new UserError(`${folder} is a session itself. Expected: the folder that session folders are dropped into.`);
  const there = await stat(folder).catch(() => null);
  if (!there?.isDirectory())
    throw new UserError(`${folder} is no folder. Expected: the folder that session folders are dropped into.`);
  const arrivals = createArrivals(SETTLE_MS);
  const awaited = createAwaitedReports(options.out);
  const onRefused = (session: string, error: unknown) => {
    if (error instanceof BaselineError) awaited.await({ folder: session, baselineId: error.baselineId });
  };
  if (!options.quiet) terminal.err(`Watching ${folder}; stop with Ctrl+C.\n`);
  let trouble = '';
  while (!world.signal.aborted) {
    try {
      const seen = await sessionsIn(folder);
      for (const { folder: session, baselineId } of awaited.come()) {
        if (arrivals.again(session) && !options.quiet)
          terminal.err(
            `${session}: the report of "${baselineId}", which it takes limits from, has come; it is tried again.\n`,
          );
      }
      const whole = arrivals.look(seen, world.now());
      for (const session of whole) awaited.forget(session);
      if (whole.length > 0) await build(whole, { ...options, signal: world.signal, onRefused }, terminal);
      trouble = '';
    } catch (error) {
      const text = failureText(error, folder);
      // A share that is away for a night is said once, not each time it is looked at.
      if (text !== trouble) terminal.err(text);
      trouble = text;
    }
    await world.sleep(LOOK_MS);
  }
  return 0;
}

/** Session folders right below `folder`, each with a print of everything in it. */
async function sessionsIn(folder: string): Promise<Map<string, string>> {
  const found = new Map<string, string>();
  for (const entry of await readable(readdir(folder, { withFileTypes: true }), folder)) {
    const path = join(folder, entry.name);
    if (!entry.isDirectory() || entry.name.startsWith('.')) continue;
    // What is no session may be of any size, such as a whole disk.
    if (!(await stat(join(path, MANIFEST)).catch(() => null))) continue;
    const files = await readdir(path, { withFileTypes: true, recursive: true }).catch(() => []);
    const lines = await Promise.all(
      files
        .filter((file) => file.isFile())
        .map(async (file) => {
          const name = join(file.parentPath, file.name);
          const at = await stat(name).catch(() => null);
          return `${name}|${at?.size}|${at?.mtimeMs}`;
        }),
    );
    found.set(path, lines.sort().join('\n'));
  }
  return found;
}

function readable<T>(work: Promise<T>, folder: string): Promise<T> {
  return work.catch((error: unknown) => {
    throw new UserError(
      `${folder} cannot be read just now (${error instanceof Error ? error.message : error}); it is tried again.`,
    );
  });
}
