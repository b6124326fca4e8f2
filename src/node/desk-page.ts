/** `desk.html`: the program that `npm run compile` packed, with words, pages and letters put into it; one file, whole in itself. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import Handlebars from 'handlebars';
import { base64, hashOf, hexHashOf } from '../base/bytes.ts';
import { there } from '../base/there.ts';
import type { DeskData } from '../desk/data.ts';
import type { Shop } from '../report/shop/shop.ts';
import { PAGE, PROSE } from '../report/words/compile.ts';
import { readSections, type Section } from '../report/words/prose.ts';
import { CONTENT, interFont, languagesThere, loadContent, TEMPLATES } from './content.ts';
import { PROJECT } from './project.ts';

const FONTS = ['latin', 'greek'].flatMap((subset) =>
  [400, 600, 700].map((weight) => `inter-${subset}-${weight}-normal.woff2`),
);
const PROGRAM = new URL('.build/desk/desk.js', PROJECT);

/** @param shop whose face, words and pages it has; its folders are read here */
export function deskPage(version: string, shop: Shop | null): string {
  const words = textsBelow([CONTENT, ...(shop?.content ?? [])]);
  const templates = textsBelow([TEMPLATES, ...(shop?.templates ?? [])]);
  const data: Omit<DeskData, 'compiled'> = {
    version,
    words,
    templates,
    fonts: Object.fromEntries(FONTS.map((file) => [file, interFont(file)])),
    languages: languagesThere(shop?.content),
    plainRows: readFileSync(new URL('.build/plain-rows.wasm', PROJECT)).toString('base64'),
    shop: shop && { ...shop, content: [], templates: [] },
  };
  const program = inScript(
    `globalThis.STANDSTILL_DATA=${JSON.stringify(data)};\nSTANDSTILL_DATA.compiled=${compiled(words, templates)};\n${readFileSync(PROGRAM, 'utf8')}`,
  );
  const content = loadContent(shop?.language ?? 'en', shop?.content, shop?.templates);
  const style = `${fontFaces(data.fonts)}\n${templates['styles/base.css']}\n${templates['styles/desk.css']}`;
  return [
    '<!doctype html>',
    `<html lang="${content.language}">`,
    '<head>',
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${policy(program, there(templates['scripts/explore.js']))}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<title>Standstill</title>',
    `<style>${style}</style>`,
    '</head>',
    '<body>',
    `<script id="program">${program}</script>`,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}

/** Its own script and that of the report, workers made of it, WebAssembly; no network and no code made from text. */
function policy(program: string, explore: string): string {
  const hash = (script: string) => `'sha256-${base64(hashOf(script))}'`;
  return `default-src 'none'; script-src ${hash(program)} ${hash(explore)} 'wasm-unsafe-eval'; worker-src blob:; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'`;
}

/** Nothing in it can end the script element, or begin a comment in it. */
function inScript(text: string): string {
  return text
    .replaceAll(/<(?=\/script|script)/gi, '\\x3c')
    .replaceAll('<!--', '\\x3c!--')
    .replaceAll('\r\n', '\n');
}

function fontFaces(fonts: Readonly<Record<string, string>>): string {
  return [400, 600, 700]
    .map(
      (weight) =>
        `@font-face { font-family: Inter; font-weight: ${weight}; src: url(data:font/woff2;base64,${fonts[`inter-latin-${weight}-normal.woff2`]}) format("woff2"); }`,
    )
    .join('\n');
}

/** Every file below the folders by its path; those of later folders stand in for earlier ones. */
function textsBelow(folders: readonly string[]): Record<string, string> {
  const texts: Record<string, string> = {};
  for (const folder of folders) {
    for (const name of readdirSync(folder, { recursive: true, encoding: 'utf8' }).sort()) {
      const file = join(folder, name);
      if (statSync(file).isFile())
        texts[name.replaceAll('\\', '/')] = readFileSync(file, 'utf8').replaceAll('\r\n', '\n');
    }
  }
  return texts;
}

/** Every template in Handlebars' own form, as the text of an object: by its kind and the hash of its text. */
function compiled(words: Readonly<Record<string, string>>, templates: Readonly<Record<string, string>>): string {
  const parts = new Map<string, string>();
  for (const [path, text] of Object.entries(templates)) {
    if (path.endsWith('.hbs')) parts.set(`page ${hexHashOf(text)}`, Handlebars.precompile(text, PAGE) as string);
  }
  for (const [path, text] of Object.entries(words)) {
    if (!path.endsWith('.md')) continue;
    for (const source of sourcesOf(readSections(path, text)))
      parts.set(`prose ${hexHashOf(source)}`, Handlebars.precompile(source, PROSE) as string);
  }
  return `{${[...parts].map(([name, form]) => `${JSON.stringify(name)}:${form}`).join(',\n')}}`;
}

function sourcesOf({ source, parts }: Section): string[] {
  return [...(source.includes('{{') ? [source] : []), ...parts.flatMap(sourcesOf)];
}
