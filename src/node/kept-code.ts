/**
 * Starts the packed program, `.build/bin`, with what the engine made of its code when it was packed: a short run takes some 7 % less
 * of the processor's time. The engine takes that back only in its own version and with its own flags, and compiles
 * by itself otherwise; `.bundle.mjs` throws it away with the code that it was made from.
 */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { Script } from 'node:vm';
import { setEngine } from './engine.ts';

interface Loaded {
  readonly script: Script;
  readonly module: { exports: unknown };
}

/** By its path. */
const loaded = new Map<string, Loaded>();

/** Runs a file of the packed program, once; its flags are set before, or the engine would not know its code again. */
export function start(folder: string, name: string): unknown {
  setEngine();
  return load(join(folder, name), folder);
}

/** While the program runs, the engine forgets nothing; at its end what it knows by then is written beside each file that has run. */
export function keepCode(): void {
  setFlagsFromString('--no-flush-bytecode');
  process.on('exit', () => {
    setFlagsFromString('--flush-bytecode');
    for (const [path, { script }] of loaded) writeFileSync(keptFor(path), script.createCachedData());
  });
}

/** As Node itself runs a file of this kind. */
export const asFunction = (source: string): string =>
  `(function (exports, require, module, __filename, __dirname) {${source}\n})`;

const keptFor = (path: string) => `${path}.code`;

function load(path: string, folder: string): unknown {
  const before = loaded.get(path);
  if (before) return before.module.exports;
  const kept = keptFor(path);
  const script = new Script(asFunction(readFileSync(path, 'latin1')), {
    filename: path,
    ...(existsSync(kept) && { cachedData: readFileSync(kept) }),
  });
  const module = { exports: {} };
  loaded.set(path, { script, module });
  const others = createRequire(path);
  const require = (name: string) => (name.startsWith('./') ? load(join(folder, name), folder) : others(name));
  script.runInThisContext().call(module.exports, module.exports, require, module, path, folder);
  return module.exports;
}
