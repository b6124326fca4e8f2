/**
 * `index.html`: the whole report in one file that opens from a file share. Styles, fonts and charts are in it, it is
 * complete without its script, and nothing refers to the network. It is a rendering of `report.json` and adds no facts.
 */
import { zoneOf } from '../../base/zone.ts';
import type { Report } from '../contract/report.ts';
import { WHOLE_PDF } from '../pdf/pdf-names.ts';
import type { ShownPhoto } from '../pictures/photos.ts';
import type { Shop } from '../shop/shop.ts';
import type { Content } from '../words/content.ts';
import { makeFormat } from '../words/format.ts';
import { contentPolicy, exploreJson, pageScript } from './explore.ts';
import { fontFaces } from './font-faces.ts';
import { type PageChart, withPictures } from './page-words.ts';
import type { Series } from './series.ts';
import { pageTemplate } from './template.ts';
import { pageView, sessionMoments } from './view.ts';

export interface PageOptions {
  readonly pageSize: 'a4' | 'letter';
  /** Prose, labels, templates and fonts. */
  readonly content: Content;
  /** The shop's name, logo and colour. */
  readonly shop?: Shop | null;
  /** By a photo's path; those that are missing are named only. */
  readonly photos?: ReadonlyMap<string, ShownPhoto>;
  /** The log at closer range, for the page's script; without it the page has none. */
  readonly series?: Series;
}

const PARTIALS = [
  'marks',
  'status',
  'figure',
  'table',
  'shop',
  'customer',
  'assessment',
  'portrait',
  'portrait-part',
  'portrait-body',
  'model',
  'overview',
  'finding',
  'brief',
  'steps',
  'cautions',
  'explore',
  'session',
  'log',
  'fitting',
  'method',
];

/** Beside the report, see `csvTables`. */
const CSV_TABLES = ['parked', 'wakes', 'cranks', 'drives', 'portrait'];

const STYLES = ['base', 'customer', 'technician', 'tables', 'screen', 'print'];

interface Picture {
  readonly name: string;
  /** Null where it does not stand on the page. */
  readonly svg: string | null;
}

/**
 * The page but for its pictures, which may still be drawn meanwhile; given these, it is whole. Throws a `UserError` where a
 * template, a label or a page of prose is missing.
 */
export function layPage(
  report: Report,
  charts: readonly PageChart[],
  options: PageOptions,
): (pictures: readonly Picture[]) => string {
  const { shop = null, photos = new Map(), content } = options;
  const format = makeFormat(content.locale, zoneOf(report.session.timezone), content.label('unknown'));
  const view = pageView(report, charts, { content, format, photos });
  const running = `${report.session.vehicle.registration ?? report.session.vehicle.description} · ${report.session.title}`;
  const script = options.series ? pageScript(content) : null;
  const html = pageTemplate(
    content,
    'report.hbs',
    PARTIALS,
  )({
    ...view,
    shop,
    csv: report.against_model ? [...CSV_TABLES, 'against-model'] : CSV_TABLES,
    explore: options.series ? exploreJson(report, options.series, sessionMoments(report), content, format) : null,
    script,
    policy: contentPolicy(script),
    style: styleOf(options.pageSize, running, content, shop),
  });
  return (pictures) =>
    withPictures(html, (name) => {
      const svg = pictures.find((picture) => picture.name === name)?.svg;
      if (!svg) throw new Error(`the picture ${name} stands on the page and was not drawn`);
      return svg;
    });
}

/** The page with its ways to the PDFs that are beside it, by their names. */
export function withPdfLink(html: string, files: Iterable<string> = [WHOLE_PDF]): string {
  const show = (page: string, id: string) => page.replace(`<li hidden id="${id}">`, `<li id="${id}">`);
  return [...files].reduce((page, file) => show(page, `${file.replace('.', '-')}-way`), html);
}

/** The page of which only the customer's part is printed. */
export function customersPage(html: string): string {
  return html.replace('<body', '<body data-part="customer"');
}

/** Styles with the fonts in them. `running` is the title on the head of every printed page but the first. */
export function styleOf(
  pageSize: 'a4' | 'letter',
  running: string,
  content: Content,
  shop: Shop | null = null,
): string {
  const count = `${cssString(`${content.label('page.page')} `)} counter(page) " / " counter(pages)`;
  const paper = [
    `@page { size: ${pageSize === 'a4' ? 'A4' : 'letter'}; }`,
    `@page { @top-left { content: ${cssString(running)}; } @bottom-right { content: ${count}; } }`,
    '@page :first { @top-left { content: none; } }',
    ...shopStyle(shop),
  ];
  return [fontFaces(content), ...STYLES.map((name) => content.template(`styles/${name}.css`)), ...paper].join('\n');
}

/** The shop's line at the foot of pages, and its colour for rules and links: status colours stay what they are. */
export function shopStyle(shop: Shop | null): string[] {
  const footer = shop?.footer ? [`@page { @bottom-left { content: ${cssString(shop.footer)}; } }`] : [];
  if (!shop?.accent) return footer;
  const { light, dark } = shop.accent;
  const own = (colour: string) => `:root { --link: ${colour}; --accent: ${colour}; }`;
  return [...footer, own(light), `@media screen and (prefers-color-scheme: dark) { ${own(dark)} }`];
}

/** A quoted CSS string in which nothing can end the string or the style element. */
export function cssString(text: string): string {
  return `"${text.replaceAll(/[\p{Cc}"\\<>&]/gu, (sign) => `\\${sign.codePointAt(0)?.toString(16)} `)}"`;
}
