/**
 * The licences of everything that the packed program contains of others, written beside it: what was bundled, by the modules
 * that went in, and the fonts that stand in every report. Each licence asks for its text to go with the copy.
 */
import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';

const LICENCE_FILE = /^(licen[cs]e|copying|notice)(\.|-|$)/i;

/** @param modules absolute paths; those in `node_modules` name the packages */
export function writeNotices(modules, file) {
  const folders = new Set(modules.flatMap(packageOf));
  const packages = [...folders].map(read).sort((a, b) => (a.title < b.title ? -1 : 1));
  const seen = new Set();
  const parts = packages
    .filter(({ title }) => !seen.has(title) && seen.add(title))
    .map(({ title, licence, texts }) => {
      return [`## ${title}`, `Licence: ${licence}`, ...texts].join('\n\n');
    });
  const head = '# Notices\n\nStandstill contains the following, each under its own licence.';
  writeFileSync(file, `${[head, ...parts].join('\n\n')}\n`);
  const bare = packages.filter(({ licence }) => licence === 'not stated');
  if (bare.length > 0) throw new Error(`no licence: ${bare.map(({ title }) => title).join(', ')}`);
}

function packageOf(module) {
  const at = module.lastIndexOf('/node_modules/');
  if (at < 0) return [];
  for (let folder = dirname(module); folder.length > at; folder = dirname(folder)) {
    const path = join(folder, 'package.json');
    if (existsSync(path) && JSON.parse(readFileSync(path, 'utf8')).version) return [folder];
  }
  return [];
}

function read(folder) {
  const { name, version, license, licenses, author } = JSON.parse(readFileSync(join(folder, 'package.json'), 'utf8'));
  const texts = readdirSync(folder)
    .filter((file) => LICENCE_FILE.test(file))
    .sort()
    .map((file) => readFileSync(join(folder, file), 'utf8').replaceAll('\r\n', '\n').trim());
  const stated =
    typeof license === 'string' ? license : (license?.type ?? licenses?.map(({ type }) => type).join(', '));
  const by = typeof author === 'string' ? author : author?.name;
  // A package without a text of its own states its licence by name, and whose it is.
  return {
    title: `${name} ${version}`,
    licence: stated ?? 'not stated',
    texts: texts.length > 0 || !by ? texts : [`Copyright ${by}`],
  };
}
