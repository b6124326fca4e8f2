/** A page of ours within the page: a report, a comparison, a sheet. */
import type { BuiltFile } from '../api.ts';
import { download, el } from './dom.ts';

/**
 * @param files by path; a link to one of them gives it to keep, since there is no folder around the page
 * @param folder of the page among them
 */
export function framed(html: string, title: string, files: readonly BuiltFile[], folder: string): HTMLIFrameElement {
  const frame = el('iframe', { title, sandbox: 'allow-scripts allow-same-origin allow-modals' });
  frame.addEventListener('load', () => {
    frame.contentDocument?.addEventListener('click', (event) => {
      const link = (event.target as Element).closest?.('a[href]');
      const href = link?.getAttribute('href') ?? '#';
      if (href.startsWith('#')) return;
      event.preventDefault();
      const file = files.find(({ path }) => path === `${folder}/${decodeURIComponent(href)}`);
      if (file) download(file.blob, file.path.split('/').at(-1) ?? 'file');
    });
  });
  frame.srcdoc = html;
  return frame;
}

/** Prints a page that is not shown. */
export function printPage(html: string): void {
  document.getElementById('to-print')?.remove();
  const frame = el('iframe', { id: 'to-print', class: 'unseen', 'aria-hidden': 'true', tabindex: '-1' });
  frame.addEventListener('load', () => frame.contentWindow?.print());
  frame.srcdoc = html;
  document.body.append(frame);
}
