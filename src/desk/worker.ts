/** What runs in a worker of the page, made from the page's own program. */

import type { Problem } from '../base/problem.ts';
import { UserError } from '../base/problem.ts';
import { readSample } from '../log/sample/sample.ts';
import { compare } from './archive/compare.ts';
import { type ArchiveSource, folderOf, sessionsIn } from './archive/folder.ts';
import { type Kept, keep, keepComparison } from './archive/keep.ts';
import type { Given } from './files.ts';
import { ROOT } from './files.ts';
import { answerHashes, checksumOf } from './hash.ts';
import { answerReader } from './log-reader.ts';
import { type BuildOptions, build, ioOf } from './street.ts';
import { zipOf } from './zip.ts';

export type Asked =
  | { readonly kind: 'build'; readonly given: readonly Given[]; readonly options: BuildOptions }
  | { readonly kind: 'sample'; readonly given: readonly Given[]; readonly path: string }
  | { readonly kind: 'sessions'; readonly source: ArchiveSource }
  | {
      readonly kind: 'keep';
      readonly root: FileSystemDirectoryHandle;
      readonly kept: Kept;
      readonly replace: boolean;
    }
  | {
      readonly kind: 'compare';
      readonly source: ArchiveSource;
      readonly ids: { readonly before: string; readonly after: string };
      /** Leave to write into it. */
      readonly write: boolean;
    }
  | { readonly kind: 'zip'; readonly files: readonly { readonly path: string; readonly blob: Blob }[] }
  | Helping;

/** What one worker does for another at the other end of a port. */
export type Helping =
  /** Of what comes through the port. */
  | { readonly kind: 'hash'; readonly port: MessagePort }
  | { readonly kind: 'read'; readonly port: MessagePort; readonly given: readonly Given[] };

export type Answer =
  | { readonly kind: 'progress'; readonly done: number; readonly total: number }
  /** The worker cannot start another: its page does. */
  | { readonly kind: 'help'; readonly asked: Helping }
  /** Another program is writing into the archive. */
  | { readonly kind: 'waiting' }
  | { readonly kind: 'done'; readonly value: unknown }
  | { readonly kind: 'refused'; readonly problems: readonly Problem[] }
  | { readonly kind: 'bug'; readonly message: string };

export function startWorker(): void {
  const send = (answer: Answer, ...moved: readonly Transferable[]) => postMessage(answer, { transfer: [...moved] });
  const help = (asked: Helping) => send({ kind: 'help', asked }, asked.port);
  const hash = checksumOf((port) => help({ kind: 'hash', port }));

  async function answer(asked: Asked): Promise<unknown> {
    if (asked.kind === 'hash') return answerHashes(asked.port);
    if (asked.kind === 'read') return answerReader(asked.port, (mayReadOn) => ioOf(asked.given, hash, mayReadOn));
    if (asked.kind === 'sample') return readSample(`${ROOT}/${asked.path}`, asked.path, ioOf(asked.given, hash));
    if (asked.kind === 'zip') return zipOf(asked.files);
    if (asked.kind === 'sessions') return sessionsIn(folderOf(asked.source));
    const onWait = () => send({ kind: 'waiting' });
    if (asked.kind === 'keep') return keep(asked.root, asked.kept, asked.replace, onWait);
    if (asked.kind === 'compare') {
      const files = await compare(asked.source, asked.ids);
      if (asked.write && 'kind' in asked.source) await keepComparison(asked.source, asked.ids, files, onWait);
      return blobsOf(files);
    }
    let told = 0;
    const reader = (port: MessagePort) => help({ kind: 'read', port, given: asked.given });
    const built = await build(asked.given, asked.options, { hash, reader }, (done, total) => {
      if (done < total && performance.now() - told < 100) return;
      told = performance.now();
      send({ kind: 'progress', done, total });
    });
    return { ...built, files: blobsOf(built.files) };
  }

  addEventListener('message', async ({ data }: MessageEvent<Asked>) => {
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

const blobsOf = (files: ReadonlyMap<string, string>) =>
  [...files].map(([path, text]) => ({ path, blob: new Blob([text], { type: typeOf(path) }) }));

const typeOf = (path: string) => `${TYPES[path.slice(path.lastIndexOf('.') + 1)] ?? 'text/plain'};charset=utf-8`;
