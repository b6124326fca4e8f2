/** The desk's program. The page and its workers are made from the same text. */
import './no-eval.ts';
import { build } from './api.ts';
import { startPage } from './page/page.ts';
import { startWorker } from './worker.ts';

if (typeof document === 'undefined') startWorker();
else if (isAble()) {
  Object.assign(globalThis, { standstill: { build } });
  startPage();
}

/** What the page needs and no browser from before 2024 has; without it the text that stands there says what to do. */
function isAble(): boolean {
  return typeof WebAssembly === 'object' && 'any' in AbortSignal && 'supportedValuesOf' in Intl;
}
