/** The desk's program. The page and its workers are made from the same text. */
import './no-eval.ts';
import { build } from './api.ts';
import { startPage } from './page/page.ts';
import { startWorker } from './worker.ts';

if (typeof document === 'undefined') startWorker();
else {
  Object.assign(globalThis, { standstill: { build } });
  startPage();
}
