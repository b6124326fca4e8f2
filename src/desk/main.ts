/** The page's program. */
import './no-eval.ts';
import './page/given.ts';
import { build } from './api.ts';
import { startPage } from './page/page.ts';

if (isAble()) {
  Object.assign(globalThis, { standstill: { build } });
  void startPage();
}

/** What the page needs and no browser from before 2024 has; without it the text that stands there says what to do. */
function isAble(): boolean {
  return typeof WebAssembly === 'object' && 'any' in AbortSignal && 'supportedValuesOf' in Intl;
}
