/** After the log: the archive that sessions are kept in, compared in, and take limits from. */
import { UserError } from '../../base/problem.ts';
import type { BuiltFile } from '../api.ts';
import { archiveFiles } from '../archive/folder.ts';
import { work } from '../work.ts';
import type { Desk, Part } from './desk.ts';
import { download, el } from './dom.ts';
import { framed, printFramed } from './framed.ts';
import { chooseFolder, mayWriteFolders } from './keep.ts';

interface HandleItem extends DataTransferItem {
  getAsFileSystemHandle?(): Promise<FileSystemHandle | null>;
}

export function archiveSection(desk: Desk): Part {
  const { state, words, useArchive } = desk;
  const told = el('p', { role: 'status', id: 'archive-told' });
  const result = el('div');
  const choice = (id: string) => el('select', { id });
  const [before, after] = [choice('compare-before'), choice('compare-after')];
  const chooser = mayWriteFolders()
    ? el('button', { type: 'button', id: 'choose-archive', onclick: () => void pick() }, words.say('archive.choose'))
    : el('input', {
        id: 'archive-files',
        type: 'file',
        multiple: true,
        webkitdirectory: true,
        onchange: (event) => void list([...((event.target as HTMLInputElement).files ?? [])]),
      });
  const label = mayWriteFolders() ? null : el('label', { for: 'archive-files' }, words.say('archive.choose'), ' ');
  const pair = el(
    'div',
    { hidden: true },
    el('h3', {}, words.say('archive.compare')),
    el('p', { class: 'field' }, el('label', { for: 'compare-before' }, words.say('archive.before')), before),
    el('p', { class: 'field' }, el('label', { for: 'compare-after' }, words.say('archive.after')), after),
    el(
      'p',
      {},
      el('button', { type: 'button', id: 'compare', onclick: () => void compare() }, words.say('archive.compare_now')),
    ),
  );
  const root = el(
    'section',
    {
      'aria-labelledby': 'archive',
      ondragover: (event) => event.preventDefault(),
      ondrop: (event) => {
        event.preventDefault();
        const [item] = [...((event as DragEvent).dataTransfer?.items ?? [])] as HandleItem[];
        void item?.getAsFileSystemHandle?.().then(dropped);
      },
    },
    el('h2', { id: 'archive' }, words.say('archive.heading')),
    el('p', {}, words.say('archive.help')),
    el('p', {}, label, chooser),
    told,
    pair,
    result,
  );

  async function pick(): Promise<void> {
    const folder = await chooseFolder().catch((error: unknown) => {
      told.textContent = error instanceof Error ? error.message : String(error);
      return null;
    });
    if (folder) await useArchive(folder.name, folder);
  }

  async function dropped(handle: FileSystemHandle | null): Promise<void> {
    if (handle?.kind === 'directory') await useArchive(handle.name, handle as FileSystemDirectoryHandle);
  }

  async function list(files: readonly File[]): Promise<void> {
    const [first] = files;
    if (first) await useArchive(first.webkitRelativePath.split('/')[0] ?? first.name, archiveFiles(files));
  }

  async function compare(): Promise<void> {
    const { archive } = state;
    if (!archive) return;
    const ids = { before: before.value, after: after.value };
    const write = 'kind' in archive.source;
    const folder = `comparisons/${ids.before}--${ids.after}`;
    told.textContent = words.say('archive.comparing');
    try {
      const made = await work<readonly BuiltFile[]>(
        { kind: 'compare', source: archive.source, ids, write },
        {
          onWait: () => {
            told.textContent = words.say('report.busy');
          },
        },
      );
      const files = made.map(({ path, blob }) => ({ path: `${folder}/${path}`, blob }));
      const page = files.find(({ path }) => path.endsWith('index.html'));
      told.textContent = write ? words.say('report.kept', { where: `${archive.name}/${folder}` }) : '';
      if (!page) return;
      const { frame, fill } = framed(await page.blob.text(), words.say('archive.compare'), files, folder);
      const name = `${ids.before}--${ids.after}.html`;
      const button = (key: string, does: () => void) =>
        el('button', { type: 'button', id: `compare-${key.replace(/.*\./, '')}`, onclick: does }, words.say(key));
      result.replaceChildren(
        el(
          'p',
          { class: 'ways' },
          button('archive.keep_page', () => download(page.blob, name)),
          button('report.print', () => printFramed(frame)),
        ),
        frame,
      );
      await fill();
    } catch (error) {
      told.textContent = '';
      result.replaceChildren(
        el(
          'p',
          { role: 'alert' },
          error instanceof UserError
            ? error.problems.map(({ message }) => words.message(message)).join(' ')
            : String((error as Error).message),
        ),
      );
    }
  }

  let shown: typeof state.archive = null;
  return {
    root,
    show() {
      const { archive } = state;
      if (archive === shown) return;
      shown = archive;
      if (!archive) return;
      told.textContent = words.say(archive.ids.length === 1 ? 'archive.has_one' : 'archive.has', {
        name: archive.name,
        count: archive.ids.length,
      });
      pair.hidden = archive.ids.length < 2;
      const last = archive.ids.at(-1);
      for (const select of [before, after])
        select.replaceChildren(
          ...archive.ids.map((id) => el('option', { value: id, selected: select === after && id === last }, id)),
        );
    },
  };
}
