/** What runs in a worker of the page, made from the page's own program. */

import type { Problem } from '../base/problem.ts';
import { UserError } from '../base/problem.ts';
import { readSample } from '../log/sample/sample.ts';
import type { Given } from './files.ts';
import { ROOT } from './files.ts';
import { checksumOf, hashOfFile } from './hash.ts';
import { type BuildOptions, build, ioOf } from './street.ts';

export type Asked =
  | { readonly kind: 'build'; readonly given: readonly Given[]; readonly options: BuildOptions }
  | { readonly kind: 'sample'; readonly given: readonly Given[]; readonly path: string }
  | { readonly kind: 'hash'; readonly file: Blob };

export type Answer =
  | { readonly kind: 'progress'; readonly done: number; readonly total: number }
  /** The worker cannot start another: its page does. */
  | { readonly kind: 'hash'; readonly file: Blob; readonly number: number }
  | { readonly kind: 'done'; readonly value: unknown }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] }
  | { readonly kind: 'bug'; readonly message: string };

/** From the page, in answer to `hash`. */
export interface Hashed {
  readonly kind: 'hashed';
  readonly number: number;
  readonly hash: string;
}

export function startWorker(): void {
  const send = (answer: Answer) => postMessage(answer);
  const waiting = new Map<number, (hash: string) => void>();
  let hashes = 0;
  const elsewhere = (file: Blob) =>
    new Promise<string>((resolve) => {
      const number = hashes++;
      waiting.set(number, resolve);
      send({ kind: 'hash', file, number });
    });

  async function answer(asked: Asked): Promise<unknown> {
    if (asked.kind === 'hash') return hashOfFile(asked.file);
    const hash = checksumOf(elsewhere);
    if (asked.kind === 'sample') return readSample(`${ROOT}/${asked.path}`, asked.path, ioOf(asked.given, hash));
    let told = 0;
    const built = await build(asked.given, asked.options, hash, (done, total) => {
      if (done < total && performance.now() - told < 100) return;
      told = performance.now();
      send({ kind: 'progress', done, total });
    });
    return {
      id: built.id,
      files: [...built.files].map(([path, text]) => ({ path, blob: new Blob([text], { type: typeOf(path) }) })),
    };
  }

  addEventListener('message', async ({ data }: MessageEvent<Asked | Hashed>) => {
    if (data.kind === 'hashed') {
      waiting.get(data.number)?.(data.hash);
      return;
    }
    try {
      send({ kind: 'done', value: await answer(data) });
    } catch (error) {
      if (error instanceof UserError) send({ kind: 'refused', problems: error.problems });
      else send({ kind: 'bug', message: error instanceof Error ? (error.stack ?? error.message) : String(error) });
    }
  });
}

const TYPES: Readonly<Record<string, string>> = {
  html: 'text/html',
  css: 'text/css',
  json: 'application/json',
  csv: 'text/csv',
};

const typeOf = (path: string) => `${TYPES[path.slice(path.lastIndexOf('.') + 1)] ?? 'text/plain'};charset=utf-8`;
