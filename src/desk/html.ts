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

/** What stands before its data, its workers' program and its own, and after them. */
export function deskFrame({
  language,
  madeFrom,
  policy,
  style,
  opening,
}: FrameParts): readonly [data: string, worker: string, page: string, end: string] {
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
    '<script type="application/json" id="data">',
  ];
  return [
    head.join('\n'),
    '</script>\n<script type="text/plain" id="worker">',
    '</script>\n<script>',
    '</script>\n</body>\n</html>\n',
  ];
}

/** Of a program or of JSON, in signs that are a byte each, which a browser reads faster: nothing in it can end the script element, or begin a comment in it. */
export function inScript(text: string): string {
  return plainScript(text.replaceAll(/<(?=\/script|script|!--)/gi, '\\u003c').replaceAll('\r\n', '\n'));
}

/** In signs that are a byte each: strings, patterns and names may be written so. */
export function plainScript(text: string): string {
  return text.replaceAll(/[^\0-\x7f]/g, (sign) => `\\u${sign.charCodeAt(0).toString(16).padStart(4, '0')}`);
}
