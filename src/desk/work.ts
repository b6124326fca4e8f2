/** Asks a worker, made from the page's own program: from a file's address a browser loads no other. */
import { type Problem, UserError } from '../base/problem.ts';
import { deskFrame, MADE_FROM } from './html.ts';
import type { Answer, Asked } from './worker.ts';

/** Known only while the script runs for the first time. */
const text = typeof document === 'undefined' ? '' : (document.currentScript?.textContent ?? '');
const opening = typeof document === 'undefined' ? '' : (document.querySelector('body > p')?.textContent ?? '');
const pageLanguage = typeof document === 'undefined' ? '' : document.documentElement.lang;
let known: { readonly blob: Blob; readonly address: string } | undefined;

/** Made once: that takes a tenth of a second. */
function program() {
  const blob = known?.blob ?? new Blob([text], { type: 'text/javascript' });
  known ??= { blob, address: URL.createObjectURL(blob) };
  return known;
}

export interface Watching {
  readonly onProgress?: (done: number, total: number) => void;
  readonly onWait?: () => void;
  readonly signal?: AbortSignal;
}

/** Rejects with a `UserError` where the worker refuses, and with an `Error` where it fails. */
export function work<T>(asked: Asked, { onProgress, onWait, signal }: Watching = {}): Promise<T> {
  const worker = new Worker(program().address);
  const done = new AbortController();
  const signals = AbortSignal.any([done.signal, ...(signal ? [signal] : [])]);
  return new Promise<T>((resolve, reject) => {
    signal?.addEventListener('abort', () => reject(new DOMException('stopped', 'AbortError')));
    worker.addEventListener('error', ({ message }) => reject(new Error(message)));
    worker.addEventListener('message', ({ data }: MessageEvent<Answer>) => {
      if (data.kind === 'progress') onProgress?.(data.done, data.total);
      else if (data.kind === 'waiting') onWait?.();
      else if (data.kind === 'done') resolve(data.value as T);
      else if (data.kind === 'refused') reject(new UserError(data.problems as readonly Problem[]));
      else if (data.kind === 'bug') reject(new Error(data.message));
      else work(data.asked, { signal: signals }).catch(reject);
    });
    worker.postMessage(asked, { transfer: 'port' in asked ? [asked.port] : [] });
  }).finally(() => {
    done.abort();
    worker.terminate();
  });
}

/** This page's own file, as the command line wrote it. */
export function ownFile(): Blob {
  const meta = (selector: string) => document.querySelector(selector)?.getAttribute('content') ?? '';
  const [before, after] = deskFrame({
    language: pageLanguage,
    madeFrom: meta(`meta[name="${MADE_FROM}"]`),
    policy: meta('meta[http-equiv="Content-Security-Policy"]'),
    style: document.querySelector('style')?.textContent ?? '',
    opening,
  });
  return new Blob([before, program().blob, after], { type: 'text/html;charset=utf-8' });
}
