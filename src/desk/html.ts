/** The page's file, as the command line writes it and as the page gives itself away. */

export interface FrameParts {
  readonly language: string;
  /** `key` of what the page is made from. */
  readonly madeFrom: string;
  readonly policy: string;
  readonly style: string;
  /** Stands there until the script has drawn the page, and stays where a browser cannot run it. */
  readonly opening: string;
}

export const DESK = 'desk.html';
/** Stands within the first KiB of the file. */
export const MADE_FROM = 'made-from';

/** What stands before its one script and after it. */
export function deskFrame({
  language,
  madeFrom,
  policy,
  style,
  opening,
}: FrameParts): readonly [before: string, after: string] {
  const head = [
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
    `<p>${opening.replaceAll('&', '&amp;').replaceAll('<', '&lt;')}</p>`,
    '<script>',
  ];
  return [head.join('\n'), '</script>\n</body>\n</html>\n'];
}

/** Nothing in it can end the script element, or begin a comment in it. */
export function inScript(text: string): string {
  return text
    .replaceAll(/<(?=\/script|script)/gi, '\\x3c')
    .replaceAll('<!--', '\\x3c!--')
    .replaceAll('\r\n', '\n');
}
