/** The shop's own face: `shop.yaml` beside the archive. */
import { below, type Files } from '../../base/files.ts';
import { type Problem, UserError } from '../../base/problem.ts';
import { shown } from '../../base/shown.ts';
import { choice, flag, group, list, text } from '../../manifest/fields.ts';
import { findFile, pathFault } from '../../manifest/paths.ts';
import { type Path, pathText, readTree } from '../../manifest/yaml-tree.ts';
import { patternFault } from '../pdf/pdf-names.ts';
import { cleanPhoto, dataUri, svgFault } from '../pictures/picture.ts';
import { languageFault } from '../words/languages.ts';
import { parseColour, withContrast } from './colour.ts';

const SHOP_FILE = 'shop.yaml';
const MOST_BYTES = 256 * 1024;
const MAX_LOGO_BYTES = 200 * 1024;
/** WCAG 2.2, 1.4.3: text on its ground. */
const TEXT_CONTRAST = 4.5;

export interface Shop {
  readonly name: string | null;
  readonly address: readonly string[];
  /** A `data:` address, checked. */
  readonly logo: string | null;
  /** For light and for dark pages, as `#rrggbb`, each readable on its paper. */
  readonly accent: { readonly light: string; readonly dark: string } | null;
  readonly pageSize: 'a4' | 'letter' | null;
  /** Of the archive's pages, and of reports that name none. */
  readonly language: string | null;
  readonly footer: string | null;
  /** The customer's page as a PDF of its own; null where that is not said. */
  readonly customerPdf: boolean | null;
  /** Pattern of the names under which PDFs are mailed. */
  readonly pdfName: string | null;
  /** Absolute folders that are asked for a template, and for `<language>/…`, before the tool's own. */
  readonly templates: readonly string[];
  readonly content: readonly string[];
}

const folder = (description: string) => text(description, 200, (value) => pathFault(value, false)).optional();

const SHOP = group(
  {
    name: text('Name of the shop').optional(),
    address: list(text('A line of the address'), 6, 'Address and contact, line by line').optional(),
    logo: text('SVG or PNG beside this file', 200, (value) => pathFault(value, false)).optional(),
    accent: text('A colour such as #17527f', 7, (value) =>
      parseColour(value) ? undefined : `Found ${shown(value)}. Expected: a colour such as "#17527f", in quotes.`,
    ).optional(),
    page: choice(['a4', 'letter'], 'Paper of the PDF').optional(),
    language: text('Language of the pages, such as en or de', 20).optional(),
    footer: text('A line at the foot of every page').optional(),
    customer_pdf: flag("The customer's page also as a PDF of its own").optional(),
    pdf_name: text(
      'What PDFs are called for a mail, such as {registration}_{date}_{id}.pdf',
      200,
      patternFault,
    ).optional(),
    templates: folder('Folder with templates of your own'),
    content: folder('Folder with words of your own'),
  },
  'The shop',
);

/**
 * Null where the folder has no `shop.yaml`. Throws a `UserError` with every fault and its place: an unknown key, a logo that
 * is not there, too large, or not only a picture. A colour too pale (or, in the dark, too deep) to be read is moved
 * toward black or white until it can be.
 *
 * @param where the folder, as `files` knows it
 * @param languagesThere with the shop's own folders of words
 */
export function readShop(
  where: string,
  files: Files,
  languagesThere: (content: readonly string[]) => readonly string[],
): Shop | null {
  const there = files.stat(below(where, SHOP_FILE));
  if (there?.kind !== 'file') return null;
  if (there.bytes > MOST_BYTES) {
    const message = `The file has ${Math.ceil(there.bytes / 1024)} KiB. Expected: up to ${MOST_BYTES / 1024} KiB.`;
    throw new UserError([{ file: SHOP_FILE, message }]);
  }
  const tree = readTree(new TextDecoder().decode(files.readFile(below(where, SHOP_FILE))), SHOP_FILE);
  const problems: Problem[] = [...tree.problems];
  const tell = (path: Path, message: string) =>
    problems.push({ file: SHOP_FILE, ...tree.place(path), path: pathText(path), message });
  const result = SHOP.safeParse(tree.data ?? {});
  if (!result.success) {
    for (const issue of result.error.issues) tell(issue.path, issue.message);
    throw new UserError(problems);
  }
  const {
    name,
    address = [],
    logo,
    accent,
    page,
    language,
    footer,
    templates,
    content,
    customer_pdf,
    pdf_name,
  } = result.data;
  const colour = accent === undefined ? null : parseColour(accent);
  const shop: Shop = {
    name: name ?? null,
    address,
    logo: logo === undefined ? null : readLogo(where, logo, files, (message) => tell(['logo'], message)),
    accent: colour && {
      light: withContrast(colour, [255, 255, 255], [0, 0, 0], TEXT_CONTRAST),
      dark: withContrast(colour, [0x12, 0x18, 0x1f], [255, 255, 255], TEXT_CONTRAST),
    },
    pageSize: page ?? null,
    language: language ?? null,
    footer: footer ?? null,
    customerPdf: customer_pdf ?? null,
    pdfName: pdf_name ?? null,
    templates: ownFolder(where, templates, files, (message) => tell(['templates'], message)),
    content: ownFolder(where, content, files, (message) => tell(['content'], message)),
  };
  const unknown = language === undefined ? undefined : languageFault(language, languagesThere(shop.content));
  if (unknown) tell(['language'], unknown);
  if (problems.length > 0) throw new UserError(problems);
  return shop;
}

type TellHere = (message: string) => void;

function ownFolder(where: string, path: string | undefined, files: Files, tell: TellHere): string[] {
  if (path === undefined) return [];
  const full = below(where, path);
  if (files.stat(full)?.kind === 'folder') return [full];
  tell(`Found ${shown(path)}, which is no folder beside ${SHOP_FILE}.`);
  return [];
}

function readLogo(where: string, path: string, files: Files, tell: TellHere): string | null {
  const found = findFile(where, path, files);
  if ('fault' in found) {
    tell(found.fault);
    return null;
  }
  const full = below(where, found.path);
  const size = files.stat(full)?.bytes ?? 0;
  if (size > MAX_LOGO_BYTES) {
    tell(`The logo has ${Math.ceil(size / 1024)} KiB. Expected: up to ${MAX_LOGO_BYTES / 1024} KiB.`);
    return null;
  }
  const bytes = files.readFile(full);
  const photo = cleanPhoto(bytes);
  if (photo) return dataUri(photo);
  const fault = svgFault(new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes));
  if (fault === null) return dataUri({ type: 'image/svg+xml', data: bytes });
  tell(`${shown(path)} is neither a sound PNG or JPEG nor an SVG that can be taken: ${fault}.`);
  return null;
}
