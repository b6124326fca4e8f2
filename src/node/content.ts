/** Words, pages and fonts as files on disk: the tool's own, and those of a shop before them. */
import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { type Content, LABELS, makeContent, type Texts } from '../report/words/content.ts';
import { PROJECT } from './project.ts';

const { resolve } = createRequire(import.meta.url);
const ours = (name: string): string => fileURLToPath(new URL(name, PROJECT));

/** Our own folder of languages. */
export const CONTENT = ours('content');
export const TEMPLATES = ours('templates');

/**
 * @param overrides folders that are asked before ours; each holds `<language>/…` as `content/` does
 * @param templates the same for what `templates/` holds
 */
export function loadContent(
  language: string,
  overrides: readonly string[] = [],
  templates: readonly string[] = [],
): Content {
  return makeContent(language, {
    words: [...overrides, CONTENT].map(textsIn),
    templates: [...templates, TEMPLATES].map(textsIn),
    font: interFont,
  });
}

/** In order of names. A shop's own folder may bring a language that we do not have. */
export function languagesThere(overrides: readonly string[] = []): string[] {
  const names = [CONTENT, ...overrides].flatMap((folder) =>
    readdirSync(folder).filter((name) => existsSync(join(folder, name, LABELS))),
  );
  return [...new Set(names)].sort();
}

export function interFont(file: string): string {
  return readFileSync(resolve(`@fontsource/inter/files/${file}`)).toString('base64');
}

function textsIn(folder: string): Texts {
  return {
    name: folder,
    text(path) {
      const file = join(folder, path);
      // A pipe would be waited for in vain.
      const isFile = statSync(file, { throwIfNoEntry: false })?.isFile() === true;
      return isFile ? readFileSync(file, 'utf8').replaceAll('\r\n', '\n') : undefined;
    },
  };
}
