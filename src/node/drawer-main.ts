/** What runs in the thread that `drawer.ts` starts. */
import { parentPort } from 'node:worker_threads';
import { rawSvg, type Spec } from '../charts/drawing/draw.ts';
import { WARM_UP } from '../charts/drawing/warm-up.ts';
import { setEngine } from './engine.ts';

export type Drawn = { readonly svg: string } | { readonly error: Error };

setEngine();
// The first picture takes as long as ten others: one is drawn while nobody waits for it.
rawSvg(WARM_UP).catch(() => {});

parentPort?.on('message', async (spec: Spec) => {
  const drawn = await rawSvg(spec).then(
    (svg): Drawn => ({ svg }),
    (error: Error): Drawn => ({ error }),
  );
  parentPort?.postMessage(drawn);
});
