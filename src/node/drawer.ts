/**
 * Pictures drawn in a thread of their own, for all sessions of a process: it loads vega, which takes a while, when the
 * log is being analysed, and draws when the report is put together.
 */
import { availableParallelism } from 'node:os';
import { Worker } from 'node:worker_threads';
import type { Drawer, Spec } from '../charts/drawing/draw.ts';
import { type SvgText, tidySvg } from '../charts/drawing/tidy-svg.ts';
import type { Drawn } from './drawer-main.ts';
import { YOUNG_MB } from './engine.ts';

let shared: Drawer | undefined;

/** Makes the drawer ready; there is time for it while a log is analysed. */
export function startDrawer(): Drawer {
  // Node starts no thread from TypeScript, and on a single core one is of no use.
  const threads = import.meta.url.endsWith('.js') && availableParallelism() > 1;
  shared ??= threads
    ? threadDrawer()
    : { draw: async (spec) => (await import('../charts/drawing/draw.ts')).rawSvg(spec) };
  return shared;
}

/** A chart's spec as an `<svg>` element; vega is loaded by the drawer alone. */
export async function drawSvg(spec: Spec, text: SvgText): Promise<string> {
  return tidySvg(await startDrawer().draw(spec), text);
}

function threadDrawer(): Drawer {
  // Arguments of Node's own (a program given on the command line, say) are none of the thread's.
  const worker = new Worker(new URL('./drawer-main.js', import.meta.url), {
    execArgv: [],
    resourceLimits: { maxYoungGenerationSizeMb: YOUNG_MB },
  });
  const waiting: { resolve: (svg: string) => void; reject: (error: Error) => void }[] = [];
  // Answers come in the order of the questions.
  worker.on('message', (drawn: Drawn) => {
    const asked = waiting.shift();
    if (waiting.length === 0) worker.unref();
    if ('svg' in drawn) asked?.resolve(drawn.svg);
    else asked?.reject(drawn.error);
  });
  worker.on('error', (error) => {
    shared = undefined;
    for (const { reject } of waiting.splice(0)) reject(error);
  });
  // An idle thread does not keep the process from ending. Said last: who listens for messages holds the process again.
  worker.unref();
  return {
    draw: (spec) =>
      new Promise((resolve, reject) => {
        waiting.push({ resolve, reject });
        worker.ref();
        worker.postMessage(spec);
      }),
  };
}
