/** What runs in the thread that `drawer.ts` starts. */
import { parentPort } from 'node:worker_threads';
import type { Spec } from '../charts/drawing/draw.ts';
import { setEngine } from './engine.ts';

export type Drawn = { readonly svg: string } | { readonly error: Error };

// Before vega is loaded, which takes a while.
setEngine();
const { rawSvg } = await import('../charts/drawing/draw.ts');
const { WARM_UP } = await import('../charts/drawing/warm-up.ts');
// The first picture takes as long as ten others: one is drawn while nobody waits for it.
rawSvg(WARM_UP).catch(() => {});

parentPort?.on('message', async (spec: Spec) => {
  const drawn = await rawSvg(spec).then(
    (svg): Drawn => ({ svg }),
    (error: Error): Drawn => ({ error }),
  );
  parentPort?.postMessage(drawn);
});
