/**
 * Puts the compiled program and what it uses into a few files, `.build/bin`: a thousand modules would take three times as
 * long to load. What runs in a thread of its own stands beside them under its own name, and so do the licences of others.
 */

import { execFileSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { tmpdir } from 'node:os';
import { basename, dirname, join, resolve } from 'node:path';
import { fileURLToPath } from 'node:url';
import { rolldown } from 'rolldown';
import { minifySync } from 'rolldown/utils';
import { filesHash } from './.build/archive/made-from.js';
import { ownForms } from './.build/cli/desk-forms.js';
import { inScript, plainScript } from './.build/desk/html.js';
import { writeNotices } from './.notices.mjs';

rmSync('.build/bin', { recursive: true, force: true });
const entries = ['cli/standstill', 'node/log-thread-main', 'node/drawer-main'];
const names = entries.map((entry) => basename(entry));
const bundle = await rolldown({
  input: entries.map((entry) => `./.build/${entry}.js`),
  platform: 'node',
  // Its part for Node would wait for the package `canvas`.
  resolve: {
    alias: { 'vega-canvas': fileURLToPath(import.meta.resolve('vega-canvas')).replace('.node.', '.browser.') },
  },
  // Puppeteer and the embedded browser look for files of their own; `canvas` must never be found.
  external: ['puppeteer', '@sparticuz/chromium', 'canvas'],
  plugins: [compiledBeforehand('.build/node/compiled.js')],
});
// The desk, without Node: the page's script, its workers' and that of those who help them, each a classic one, ready to stand
// in the page. Templates come compiled (see src/desk/compiled.ts).
const page = await deskScript('main', 'page');
const worker = await deskScript('worker', 'worker');
await deskScript('helper', 'helper');
writeFileSync('.build/desk/forms.js', inScript(ownForms(shortened)));
// Without blanks, and in plain signs alone: so it is read in half the time. Names stay, for whoever reads a stack.
const { output } = await bundle.write({
  dir: '.build/bin',
  format: 'cjs',
  // What a script brings along can be called with `require` alone.
  dynamicImportInCjs: false,
  entryFileNames: '[name].packed.js',
  chunkFileNames: '[name].js',
  minify: { compress: false, mangle: false, codegen: { removeWhitespace: true } },
});
for (const { fileName } of output) {
  const file = `.build/bin/${fileName}`;
  writeFileSync(file, plainScript(readFileSync(file, 'utf8')));
}
// What starts each of them: with the code that the engine kept of it (see src/node/kept-code.ts).
const starter = await rolldown({ input: './.build/node/kept-code.js', platform: 'node' });
await starter.write({ file: '.build/bin/kept-code.js', format: 'cjs' });
writeFileSync('.build/bin/package.json', '{ "type": "commonjs" }\n');
for (const name of names)
  writeFileSync(
    `.build/bin/${name}.js`,
    `#!/usr/bin/env node\nrequire('./kept-code.js').start(__dirname, '${name}.packed.js');\n`,
  );
const modules = [...output, ...page, ...worker]
  .flatMap((chunk) => Object.keys(chunk.modules ?? {}))
  .map((module) => module.replaceAll('\\', '/'));
const fonts = createRequire(import.meta.url)
  .resolve('@fontsource/inter/package.json')
  .replaceAll('\\', '/');
writeNotices([...modules, fonts], '.build/NOTICES.md');
// Beside the packed program and found by it alone: what runs unpacked may have been compiled since.
rmSync('.build/desk/desk.html', { force: true });
writeFileSync('.build/bin/code-hash', filesHash('.build'));
// Every new archive has it: it lies ready, as the packed program makes it.
execFileSync(process.execPath, ['.build/bin/standstill.js', 'desk', '--out', '.build/desk'], { stdio: 'pipe' });
keepCode();

/** Runs the program once, in a single thread, for the engine to keep what it makes of its code. */
function keepCode() {
  const out = mkdtempSync(join(tmpdir(), 'standstill-kept-'));
  const run = `
    require('node:os').availableParallelism = () => 1;
    const { start, keepCode } = require('./.build/bin/kept-code.js');
    keepCode();
    for (const name of ${JSON.stringify(names)}) start(require('node:path').resolve('.build/bin'), name + '.packed.js');`;
  try {
    execFileSync(process.execPath, ['-e', run, 'standstill', 'demo', join(out, 'sessions'), '--out', out, '--no-pdf'], {
      stdio: 'pipe',
    });
  } finally {
    rmSync(out, { recursive: true, force: true });
  }
}

function shortened(form) {
  return minifySync('form.js', `form=${form}`).code.replace(/^form=|;\s*$/g, '');
}

async function deskScript(source, name) {
  const script = await rolldown({
    input: `./src/desk/${source}.ts`,
    platform: 'browser',
    // Where a package has one part for pages and one for workers.
    resolve: { conditionNames: [...(name === 'page' ? [] : ['worker']), 'browser', 'import', 'default'] },
    external: ['canvas'],
    plugins: [compiledBeforehand('src/desk/compiled.ts')],
  });
  const file = `.build/desk/${name}.js`;
  const { output } = await script.write({ file, format: 'iife', codeSplitting: false, minify: true });
  writeFileSync(file, inScript(readFileSync(file, 'utf8')));
  return output;
}

/** `standIn` for the module of the words that compiles templates; it may itself ask for that one. */
function compiledBeforehand(standIn) {
  const file = fileURLToPath(new URL(standIn, import.meta.url));
  const stoodFor = /\breport[/\\]words[/\\]compile\.[jt]s$/;
  return {
    name: 'templates-compiled-beforehand',
    resolveId: (source, importer) =>
      importer && importer !== file && stoodFor.test(resolve(dirname(importer), source)) ? file : null,
  };
}
