/** `standstill demo`: writes the demo sessions and builds them. */
import { createWriteStream } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join, relative } from 'node:path';
import { makeFolder } from '../base/disk/make-folder.ts';
import { writeFamily } from '../demo/family.ts';
import { writeDemo } from '../demo/scenarios.ts';
import type { DemoIo } from '../demo/write-session.ts';
import { build } from './build.ts';
import type { BuildOptions } from './build-session.ts';
import type { Terminal } from './terminal.ts';

const disk: DemoIo = {
  makeFolder: (path) => makeFolder(path),
  writeText: (path, text) => writeFile(path, text),
  createWriteStream: (path) => createWriteStream(path),
};

/** Sessions go below `folder`, reports below `out`; `family`: seven vehicles of one model in place of the three sessions. */
export async function demo(
  folder: string,
  options: BuildOptions & { readonly family?: boolean },
  terminal: Terminal,
): Promise<0 | 1> {
  if (!options.quiet) terminal.err('Writing the demo sessions…\n');
  const sessions = await (options.family ? writeFamily : writeDemo)(folder, disk);
  if (!options.quiet) terminal.err('Building their reports…\n');
  const code = await build(sessions, options, terminal);
  if (!options.quiet) terminal.out(`Archive: ${relative('.', join(options.out, 'index.html'))}\n`);
  return code;
}
