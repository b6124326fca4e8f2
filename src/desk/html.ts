/** The page's file, as the command line writes it and as the page gives itself away. */

export interface PageParts {
  readonly language: string;
  /** `key` of what the page is made from. */
  readonly madeFrom: string;
  readonly policy: string;
  readonly style: string;
  readonly program: string;
}

export const DESK = 'desk.html';
/** Stands within the first KiB of the file. */
export const MADE_FROM = 'made-from';

export function deskHtml({ language, madeFrom, policy, style, program }: PageParts): string {
  return [
    '<!doctype html>',
    `<html lang="${language}">`,
    '<head>',
    '<meta charset="utf-8">',
    `<meta name="${MADE_FROM}" content="${madeFrom}">`,
    `<meta http-equiv="Content-Security-Policy" content="${policy}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="color-scheme" content="light dark">',
    '<title>Standstill</title>',
    `<style>${style}</style>`,
    '</head>',
    '<body>',
    `<script>${program}</script>`,
    '</body>',
    '</html>',
    '',
  ].join('\n');
}
