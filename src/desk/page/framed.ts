/** A page of ours within the page: a report, a comparison, a sheet. */
import type { BuiltFile } from '../api.ts';
import { turn } from '../turn.ts';
import { download, el } from './dom.ts';

export interface Framed {
  readonly frame: HTMLIFrameElement;
  /** Once the frame stands in the page; resolves when all of its page is in it. */
  fill(): Promise<void>;
}

/**
 * @param files by path; a link to one of them gives it to keep, since there is no folder around the page
 * @param folder of the page among them
 */
export function framed(html: string, title: string, files: readonly BuiltFile[], folder: string): Framed {
  const frame = el('iframe', { title, sandbox: 'allow-scripts allow-same-origin allow-modals' });
  const fileOf = (link: Element) =>
    files.find(({ path }) => path === `${folder}/${decodeURIComponent(link.getAttribute('href') ?? '')}`);
  function lead(page: Document): void {
    // A way to what lies elsewhere in an archive would lead nowhere.
    for (const link of page.querySelectorAll<HTMLElement>('a[href]:not([href^="#"])'))
      if (!fileOf(link)) (link.closest('li') ?? link).hidden = true;
    page.addEventListener('click', (event) => {
      const link = (event.target as Element).closest?.('a[href]');
      if (!link || link.getAttribute('href')?.startsWith('#')) return;
      event.preventDefault();
      const file = fileOf(link);
      if (file) download(file.blob, file.path.split('/').at(-1) ?? 'file');
    });
  }
  return {
    frame,
    async fill() {
      const page = frame.contentDocument;
      if (page && (await written(page, html))) lead(page);
    },
  };
}

/** Signs of a page that are put into a frame in one turn: all at once would keep the desk from answering for as long as they take. */
const PIECE = 1 << 15;

/** False where the frame went before its page was whole. */
async function written(page: Document, html: string): Promise<boolean> {
  page.open();
  for (let from = 0; from < html.length; ) {
    const end = html.indexOf('\n', from + PIECE) + 1 || html.length;
    page.write(html.slice(from, end));
    from = end;
    await turn();
    if (!page.defaultView) return false;
  }
  page.close();
  return true;
}

/** Prints the page in the frame; a browser proposes to call the PDF as the page around it is called. */
export function printFramed({ contentDocument, contentWindow }: HTMLIFrameElement): void {
  const own = document.title;
  document.title = contentDocument?.title ?? own;
  contentWindow?.addEventListener(
    'afterprint',
    () => {
      document.title = own;
    },
    { once: true },
  );
  contentWindow?.print();
}

/** Prints a page that is not shown. */
export function printPage(html: string): void {
  document.getElementById('to-print')?.remove();
  const frame = el('iframe', { id: 'to-print', class: 'unseen', 'aria-hidden': 'true', tabindex: '-1' });
  frame.addEventListener('load', () => printFramed(frame));
  frame.srcdoc = html;
  document.body.append(frame);
}
