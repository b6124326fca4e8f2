/** The program of the page's workers, which the page holds as a text. */
import './no-eval.ts';
import { readSample } from '../log/sample/sample.ts';
import { answerAll, hashElsewhere, help, send } from './answer.ts';
import { compare } from './archive/compare.ts';
import { type ArchiveSource, folderOf, sessionsIn } from './archive/folder.ts';
import { type Kept, keep, keepComparison } from './archive/keep.ts';
import { pagesWith } from './archive/pages.ts';
import { type Given, ROOT } from './files.ts';
import { ioOf } from './log-io.ts';
import { sheetOf } from './sheet.ts';
import { type BuildOptions, build } from './street.ts';
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
  | { readonly kind: 'sheet'; readonly values: Readonly<Record<string, string>>; readonly language: string }
  | {
      readonly kind: 'zip';
      readonly id: string;
      readonly files: readonly { readonly path: string; readonly blob: Blob }[];
      /** Where it will be unpacked. */
      readonly archive?: ArchiveSource;
    };

async function answer(asked: Asked): Promise<unknown> {
  if (asked.kind === 'sample') return readSample(`${ROOT}/${asked.path}`, asked.path, ioOf(asked.given, hashElsewhere));
  if (asked.kind === 'sheet') return sheetOf(asked.values, asked.language);
  if (asked.kind === 'zip') return zipOf(await amongOthers(asked));
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
  const built = await build(asked.given, asked.options, { hash: hashElsewhere, reader }, (done, total) => {
    if (done < total && performance.now() - told < 100) return;
    told = performance.now();
    send({ kind: 'progress', done, total });
  });
  return { ...built, files: blobsOf(built.files) };
}

/** The archive's pages name the sessions that are there too. */
async function amongOthers({ files, id, archive }: Extract<Asked, { kind: 'zip' }>) {
  const report = files.find(({ path }) => path === `sessions/${id}/report.json`);
  if (!archive || !report) return files;
  const pages = blobsOf(await pagesWith(archive, id, await report.blob.text()));
  const replaced = new Set(pages.map(({ path }) => path));
  return [...files.filter(({ path }) => !replaced.has(path)), ...pages];
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

answerAll(answer);
