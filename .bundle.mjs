/**
 * Puts the compiled program and what it uses into a few files, `.build/bin`: a thousand modules would take three times as
 * long to load. What runs in a thread of its own stands beside them under its own name.
 */
import { rolldown } from 'rolldown';

const entries = ['cli/standstill', 'node/log-thread-main', 'node/drawer-main'];
const bundle = await rolldown({
  input: entries.map((name) => `./.build/${name}.js`),
  platform: 'node',
  // Puppeteer and the embedded browser look for files of their own; `canvas` must never be found.
  external: ['puppeteer', '@sparticuz/chromium', 'canvas'],
});
await bundle.write({ dir: '.build/bin', chunkFileNames: '[name].js' });
