/**
 * Puts the compiled program and what it uses into a few files, `.build/bin`: a thousand modules would take three times as
 * long to load. What runs in a thread of its own stands beside them under its own name, and so do the licences of others.
 */

import { writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { fileURLToPath } from 'node:url';
import { rolldown } from 'rolldown';
import { ownForms } from './.build/cli/desk-forms.js';
import { writeNotices } from './.notices.mjs';

const entries = ['cli/standstill', 'node/log-thread-main', 'node/drawer-main'];
const bundle = await rolldown({
  input: entries.map((name) => `./.build/${name}.js`),
  platform: 'node',
  // Puppeteer and the embedded browser look for files of their own; `canvas` must never be found.
  external: ['puppeteer', '@sparticuz/chromium', 'canvas'],
});
// The desk: one classic script, without Node. Its templates come compiled (see src/desk/compiled.ts).
const desk = await rolldown({
  input: './src/desk/main.ts',
  platform: 'browser',
  // Where a package has one part for pages and one for workers: what runs in both is made for workers.
  resolve: { conditionNames: ['worker', 'browser', 'import', 'default'] },
  external: ['canvas'],
  plugins: [
    {
      name: 'templates-compiled-beforehand',
      resolveId: (source) =>
        source.endsWith('/compile.ts') ? fileURLToPath(new URL('src/desk/compiled.ts', import.meta.url)) : null,
    },
  ],
});
const { output: page } = await desk.write({
  file: '.build/desk/desk.js',
  format: 'iife',
  codeSplitting: false,
  minify: true,
});
writeFileSync('.build/desk/forms.js', ownForms());
const { output } = await bundle.write({ dir: '.build/bin', chunkFileNames: '[name].js' });
const modules = [...output, ...page]
  .flatMap((chunk) => Object.keys(chunk.modules ?? {}))
  .map((module) => module.replaceAll('\\', '/'));
const fonts = createRequire(import.meta.url)
  .resolve('@fontsource/inter/package.json')
  .replaceAll('\\', '/');
writeNotices([...modules, fonts], '.build/NOTICES.md');
