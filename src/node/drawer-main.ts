/** What runs in the thread that `drawer.ts` starts. */
import { parentPort } from 'node:worker_threads';
import { rawSvg, type Spec } from '../charts/drawing/draw.ts';

export type Drawn = { readonly svg: string } | { readonly error: Error };

parentPort?.on('message', async (spec: Spec) => {
  const drawn = await rawSvg(spec).then(
    (svg): Drawn => ({ svg }),
    (error: Error): Drawn => ({ error }),
  );
  parentPort?.postMessage(drawn);
});
