/** The report as `index.html` shows it, and the ways to keep what was made. */
import type { BuiltTree } from '../api.ts';
import type { Desk } from './desk.ts';
import { download, el } from './dom.ts';
import { framed, printFramed } from './framed.ts';
import { archiveToWrite, keepInArchive, mayWriteFolders, zipOf } from './keep.ts';

/** @param into the place for it; resolves when all of it is there */
export async function showReport(built: BuiltTree, desk: Desk, into: HTMLElement): Promise<void> {
  const { words } = desk;
  const folder = `sessions/${built.id}`;
  const page = built.files.find(({ path }) => path === `${folder}/index.html`);
  if (!page) return;
  const { frame, fill } = framed(await page.blob.text(), words.say('report.frame'), built.files, folder);
  const told = el('p', { role: 'status', id: 'kept' });
  const replace = el('button', { type: 'button', id: 'replace', hidden: true }, words.say('report.replace'));

  const tell = async (work: () => Promise<string | null>) => {
    told.textContent = '';
    replace.hidden = true;
    try {
      const text = await work();
      if (text !== null) told.textContent = text;
    } catch (error) {
      const isRefused = error instanceof DOMException && error.name === 'NotAllowedError';
      const why = error instanceof Error ? error.message : String(error);
      told.textContent = isRefused ? words.say('report.no_leave') : words.say('report.not_kept', { why });
    }
  };
  const button = (key: string, work: () => Promise<string | null>) =>
    el('button', { type: 'button', id: key, onclick: () => void tell(work) }, words.say(`report.${key}`));

  async function intoArchive(instead: boolean): Promise<string | null> {
    const root = await archiveToWrite(desk);
    if (!root) return words.say('report.no_choice');
    told.textContent = words.say('report.keeping');
    const taken = await keepInArchive(root, built, instead, () => {
      told.textContent = words.say('report.busy');
    });
    if (taken) {
      replace.hidden = false;
      replace.onclick = () => void tell(() => intoArchive(true));
      return words.say('report.taken', taken.taken);
    }
    await desk.useArchive(root.name, root);
    return words.say('report.kept', { where: `${root.name}/${folder}` });
  }

  const saved = (blob: Blob, name: string) => {
    download(blob, name);
    return words.say('report.saved', { where: name });
  };
  into.replaceChildren(
    el('h2', { id: 'report', tabindex: '-1' }, words.say('report.heading')),
    el('h3', {}, words.say('report.keep')),
    el(
      'p',
      { class: 'ways' },
      mayWriteFolders() ? button('keep_folder', () => intoArchive(false)) : null,
      button('keep_page', async () => saved(page.blob, `${built.id}.html`)),
      button('keep_zip', async () => saved(await zipOf(built, desk.state.archive), `${built.id}.zip`)),
      button('print', async () => {
        await filled;
        printFramed(frame);
        return null;
      }),
    ),
    mayWriteFolders() ? el('p', {}, words.say('report.folder_help')) : el('p', {}, words.say('report.no_folder')),
    told,
    replace,
    frame,
  );
  const filled = fill();
  await filled;
}
