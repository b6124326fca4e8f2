/** How this program is called here, so that what it proposes to type exists: installed, through npx, from a clone, or by its path. */
import { accessSync, constants, readFileSync } from 'node:fs';
import { delimiter, join } from 'node:path';

export interface Call {
  readonly env: Readonly<Record<string, string | undefined>>;
  /** The program's file, as `process.argv[1]` has it. */
  readonly program: string;
  readonly platform: NodeJS.Platform;
}

/** `standstill`, `npx standstill`, `npx FILE.tgz` or `node PATH`. */
export function calledAs({ env, program, platform }: Call = processCall()): string {
  const cached = /^(.*[\\/]_npx[\\/][^\\/]+)[\\/]/.exec(program)?.[1];
  if (cached !== undefined) return `npx ${shellWord(specOf(cached) ?? 'standstill')}`;
  if (env.npm_command === 'exec') return 'npx standstill';
  const names = platform === 'win32' ? ['standstill.cmd', 'standstill.exe'] : ['standstill'];
  const folders = (env.PATH ?? env.Path ?? '').split(delimiter).filter((folder) => folder !== '');
  if (folders.some((folder) => names.some((name) => runs(join(folder, name))))) return 'standstill';
  return `node ${shellWord(program)}`;
}

function processCall(): Call {
  return { env: process.env, program: process.argv[1] ?? 'standstill', platform: process.platform };
}

/** What npx was asked for, as it notes beside what it fetched. */
function specOf(folder: string): string | undefined {
  try {
    const { _npx } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
    return typeof _npx?.packages?.[0] === 'string' ? _npx.packages[0] : undefined;
  } catch {
    return undefined;
  }
}

function runs(path: string): boolean {
  try {
    accessSync(path, constants.X_OK);
    return true;
  } catch {
    return false;
  }
}

export function shellWord(text: string): string {
  return /^[\w@./:\\-]+$/.test(text) ? text : JSON.stringify(text);
}
