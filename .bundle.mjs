/**
 * Puts the compiled program and what it uses into a few files, `.build/bin`: a thousand modules would take three times as
 * long to load. What runs in a thread of its own stands beside them under its own name, and so do the licences of others.
 */
import { createRequire } from 'node:module';
import { rolldown } from 'rolldown';
import { writeNotices } from './.notices.mjs';

const entries = ['cli/standstill', 'node/log-thread-main', 'node/drawer-main'];
const bundle = await rolldown({
  input: entries.map((name) => `./.build/${name}.js`),
  platform: 'node',
  // Puppeteer and the embedded browser look for files of their own; `canvas` must never be found.
  external: ['puppeteer-core', '@sparticuz/chromium', 'canvas'],
});
const { output } = await bundle.write({ dir: '.build/bin', chunkFileNames: '[name].js' });
const modules = output
  .flatMap((chunk) => Object.keys(chunk.modules ?? {}))
  .map((module) => module.replaceAll('\\', '/'));
const fonts = createRequire(import.meta.url)
  .resolve('@fontsource/inter/package.json')
  .replaceAll('\\', '/');
writeNotices([...modules, fonts], '.build/NOTICES.md');
