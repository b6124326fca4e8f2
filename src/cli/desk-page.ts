/** `desk.html`: the program that `npm run compile` packed, with words, pages and letters put into it; one file, whole in itself. */

import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { lstat, open, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { replaceFile } from '../base/disk/write-file.ts';
import type { DeskData, WordFiles } from '../desk/data.ts';
import { DESK, deskFrame, inScript, MADE_FROM } from '../desk/html.ts';
import { CONTENT, interFont, languagesThere, loadContent, TEMPLATES } from '../node/content.ts';
import { PROJECT } from '../node/project.ts';
import { pageScript } from '../report/page/explore.ts';
import { shopStyle } from '../report/page/page.ts';
import type { Shop } from '../report/shop/shop.ts';
import { wordsIn } from '../report/words/content.ts';
import { formsOf, type TextFiles, textsBelow } from './desk-forms.ts';

const FONTS = ['latin', 'greek'].flatMap((subset) =>
  [400, 600, 700].map((weight) => `inter-${subset}-${weight}-normal.woff2`),
);
const built = (name: string) => new URL(`.build/${name}`, PROJECT);

export interface DeskMaker {
  readonly version: string;
  /** Whose face, words and pages it has; its folders are read here. */
  readonly shop: Shop | null;
  /** In which it opens, and of the archive's pages; where nobody says, in that of its reader's browser. */
  readonly language?: string | null;
  /** `toolKey`: hash of code, prose and templates; and `shopKey`: of what the shop brings of its own. */
  readonly keys: { readonly tool: string; readonly face: string };
}

/** Its bytes; what `npm run compile` wrote stands ready for a script, and is not read as text again. */
export function deskPage({ version, shop, keys, language = shop?.language ?? null }: DeskMaker): Buffer {
  const ours = { words: textsBelow(CONTENT), templates: textsBelow(TEMPLATES) };
  const words = (shop?.content ?? []).map(textsBelow);
  const templates = (shop?.templates ?? []).map(textsBelow);
  const data: DeskData = {
    version,
    keys,
    words: [...words, ours.words].map(wordFiles),
    templates: [...templates, ours.templates],
    fonts: Object.fromEntries(FONTS.map((file) => [file, interFont(file)])),
    languages: languagesThere(shop?.content),
    language,
    plainRows: readFileSync(built('plain-rows.wasm')).toString('base64'),
    sha256: readFileSync(built('sha256.wasm')).toString('base64'),
    helper: readFileSync(built('desk/helper.js'), 'utf8'),
    shop: shop && { ...shop, content: [], templates: [] },
  };
  const ready = (name: string) => readFileSync(built(`desk/${name}`));
  const own = [...words.map((one) => formsOf(one, {})), ...templates.map((one) => formsOf({}, one))];
  const program = ready('page.js');
  const content = loadContent(language ?? 'en', shop?.content, shop?.templates);
  const styles = ['base', 'desk'].map((name) => content.template(`styles/${name}.css`));
  const [before, then, last, end] = deskFrame({
    language: content.language,
    madeFrom: madeFrom(keys, language),
    policy: policy(program, pageScript(content)),
    opening: content.wordsOf('desk.yaml').get('opening') ?? '',
    style: [...styles, ...shopStyle(shop)].join('\n'),
  });
  return Buffer.concat([
    Buffer.from(`${before}${inScript(JSON.stringify(data))}${then}globalThis.STANDSTILL_FORMS=Object.assign(`),
    ready('forms.js'),
    Buffer.from(`${own.map((forms) => `,\n${inScript(forms)}`).join('')});\n`),
    ready('worker.js'),
    Buffer.from(last),
    program,
    Buffer.from(end),
  ]);
}

function wordFiles(files: TextFiles): WordFiles {
  const [yaml, texts] = [true, false].map((is) =>
    Object.entries(files).filter(([path]) => /\.yaml$/.test(path) === is),
  );
  const words = yaml?.map(([path, text]) => [path, Object.fromEntries(wordsIn(`content/${path}`, text))]);
  return { texts: Object.fromEntries(texts ?? []), words: Object.fromEntries(words ?? []) };
}

/** Beside an archive; left as it is where it was made from the same. Without a shop's face it lies ready since `npm run compile`. */
export async function writeDesk(out: string, maker: DeskMaker): Promise<string> {
  const path = join(out, DESK);
  const from = madeFrom(maker.keys, maker.language ?? maker.shop?.language ?? null);
  const isMadeFrom = async (file: string) =>
    (await headOf(file)).includes(`<meta name="${MADE_FROM}" content="${from}">`);
  if (await isMadeFrom(path)) return path;
  const ready = fileURLToPath(built(`desk/${DESK}`));
  await replaceFile(path, (await isMadeFrom(ready)) ? await readFile(ready) : deskPage(maker));
  return path;
}

const madeFrom = ({ tool, face }: DeskMaker['keys'], language: string | null) =>
  createHash('sha256')
    .update(tool)
    .update(face)
    .update(language ?? '')
    .digest('hex');

async function headOf(path: string): Promise<string> {
  // A pipe would wait for ever.
  const isFile = await lstat(path).then(
    (found) => found.isFile(),
    () => false,
  );
  const file = isFile ? await open(path).catch(() => null) : null;
  if (!file) return '';
  try {
    const { buffer, bytesRead } = await file.read(Buffer.alloc(1024), 0, 1024, 0);
    return buffer.toString('latin1', 0, bytesRead);
  } catch {
    return '';
  } finally {
    await file.close();
  }
}

/** Its own script and that of the report, workers made of it, WebAssembly; no network and no code made from text. */
function policy(program: Buffer, explore: string): string {
  const hash = (script: Buffer | string) => `'sha256-${createHash('sha256').update(script).digest('base64')}'`;
  return `default-src 'none'; script-src ${hash(program)} ${hash(explore)} 'wasm-unsafe-eval'; worker-src blob:; style-src 'unsafe-inline'; font-src data:; img-src data:; base-uri 'none'; form-action 'none'`;
}
