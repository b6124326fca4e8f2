/** Asks a worker, made from a text in the page: from a file's address a browser loads no other. */
import { type Problem, UserError } from '../base/problem.ts';
import type { Answer, Helping } from './answer.ts';
import { DATA } from './data.ts';
import { deskFrame, MADE_FROM } from './html.ts';
import { turn } from './turn.ts';
import type { Asked } from './worker.ts';

/** Known only while the script runs for the first time. */
const own = document.currentScript;
const [data, worker] = ['data', 'worker'].map((id) => document.getElementById(id));
const opening = document.querySelector('body > p')?.textContent ?? '';
const pageLanguage = document.documentElement.lang;
const textOf = (script: Element | null | undefined) => script?.textContent ?? '';

/** Made once: of a text of some MB that takes a tenth of a second. */
function once<T>(make: () => T): () => T {
  let known: T | undefined;
  return () => {
    known ??= make();
    return known;
  };
}
const dataBlob = once(() => new Blob([textOf(data)]));
const workerBlob = once(() => new Blob([textOf(worker)]));
const script = (parts: readonly BlobPart[]) => URL.createObjectURL(new Blob([...parts], { type: 'text/javascript' }));
const program = once(() => script(['globalThis.STANDSTILL_DATA=', dataBlob(), ';\n', workerBlob()]));
const helper = once(() => {
  const { plainRows, sha256 } = DATA;
  return script([`globalThis.STANDSTILL_DATA=${JSON.stringify({ plainRows, sha256 })};\n`, DATA.helper]);
});

/** One that has done its work does the next: to start another takes more than a second. */
let spare: Worker | undefined;

/** Starts one that waits for work. */
export async function prepare(): Promise<void> {
  for (const make of [dataBlob, workerBlob, helper]) {
    make();
    await turn();
  }
  spare ??= new Worker(program());
}

function takeWorker(): Worker {
  const worker = spare ?? new Worker(program());
  spare = undefined;
  return worker;
}

export interface Watching {
  readonly onProgress?: (done: number, total: number) => void;
  readonly onWait?: () => void;
  readonly signal?: AbortSignal;
}

/** Rejects with a `UserError` where the worker refuses, and with an `Error` where it fails. */
export async function work<T>(asked: Asked, { onProgress, onWait, signal }: Watching = {}): Promise<T> {
  const worker = takeWorker();
  const helpers = new AbortController();
  // Where it was stopped or failed it may still be at work.
  let isFree = false;
  try {
    return await new Promise<T>((resolve, reject) => {
      signal?.addEventListener('abort', () => reject(new DOMException('stopped', 'AbortError')));
      worker.onerror = ({ message }) => reject(new Error(message));
      worker.onmessage = ({ data }: MessageEvent<Answer>) => {
        if (data.kind === 'progress') return onProgress?.(data.done, data.total);
        if (data.kind === 'waiting') return onWait?.();
        if (data.kind === 'help') return helped(data.asked, helpers.signal, reject);
        isFree = data.kind !== 'bug';
        if (data.kind === 'done') resolve(data.value as T);
        else
          reject(
            data.kind === 'refused' ? new UserError(data.problems as readonly Problem[]) : new Error(data.message),
          );
      };
      worker.postMessage(asked);
    });
  } finally {
    helpers.abort();
    if (isFree && !spare) spare = worker;
    else worker.terminate();
  }
}

/** Works at the other end of the port until what it helps has an end. */
function helped(asked: Helping, end: AbortSignal, onFault: (error: Error) => void): void {
  const worker = new Worker(helper());
  end.addEventListener('abort', () => worker.terminate());
  worker.onerror = ({ message }) => onFault(new Error(message));
  worker.onmessage = ({ data }: MessageEvent<Answer>) => {
    if (data.kind === 'help') helped(data.asked, end, onFault);
    else if (data.kind === 'bug') onFault(new Error(data.message));
    else if (data.kind === 'done') worker.terminate();
  };
  worker.postMessage(asked, [asked.port]);
}

/** This page's own file, as the command line wrote it. */
export function ownFile(): Blob {
  const meta = (selector: string) => document.querySelector(selector)?.getAttribute('content') ?? '';
  const [before, then, last, end] = deskFrame({
    language: pageLanguage,
    madeFrom: meta(`meta[name="${MADE_FROM}"]`),
    policy: meta('meta[http-equiv="Content-Security-Policy"]'),
    style: document.querySelector('style')?.textContent ?? '',
    opening,
  });
  const parts = [before, dataBlob(), then, workerBlob(), last, textOf(own), end];
  return new Blob(parts, { type: 'text/html;charset=utf-8' });
}
