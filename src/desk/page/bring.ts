/** Bring the log: dropped, or chosen. */

import type { Desk, Part } from './desk.ts';
import { el } from './dom.ts';

/** Files that are named one by one. */
const MOST_NAMED = 12;

export function bringSection({ state, words, bring, remove, write, startAnew, show }: Desk): Part {
  const input = (id: string, folder: boolean) => {
    const made = el('input', {
      id,
      type: 'file',
      multiple: true,
      webkitdirectory: folder,
      onchange: () => void take([...(made.files ?? [])]),
    });
    return made;
  };
  const have = el('p', { role: 'status', id: 'have' });
  const list = el('ul', { class: 'files' });
  const earlier = el('p', { hidden: true }, words.say('bring.earlier'), ' ');
  earlier.append(
    el('button', { type: 'button', class: 'quiet', id: 'another', onclick: startAnew }, words.say('bring.another')),
  );
  const back = el(
    'button',
    {
      type: 'button',
      class: 'quiet',
      id: 'take-back',
      hidden: true,
      onclick: () => {
        const text = state.before ?? '';
        state.before = state.manifest;
        write(text);
      },
    },
    words.say('bring.take_back'),
  );
  const take = async (files: readonly File[]) => {
    have.textContent = words.say('bring.looking');
    await bring(files);
  };
  const zone = el(
    'div',
    {
      class: 'drop',
      ondragover: (event) => event.preventDefault(),
      ondrop: (event) => {
        event.preventDefault();
        const { dataTransfer } = event as DragEvent;
        if (dataTransfer) void dropped(dataTransfer).then(take);
      },
    },
    el('p', {}, words.say('bring.help')),
    el('p', {}, el('label', { for: 'log' }, words.say('bring.files')), ' ', input('log', false)),
    el('p', {}, el('label', { for: 'folder' }, words.say('bring.folder')), ' ', input('folder', true)),
    have,
    list,
    earlier,
    back,
  );
  const recalled = state.manifest !== '';
  const root = el(
    'section',
    { 'aria-labelledby': 'bring' },
    el('h2', { id: 'bring' }, words.say('bring.heading')),
    zone,
    el(
      'p',
      {},
      el('button', { type: 'button', class: 'quiet', id: 'without', onclick: startAnew }, words.say('bring.without')),
    ),
  );
  const without = root.lastElementChild as HTMLElement;
  return {
    root,
    show() {
      const { files, manifest, before, own } = state;
      without.hidden = manifest !== '' || files.length > 0;
      earlier.hidden = !recalled || own || manifest === '' || before !== null;
      back.hidden = before === null || before === '' || before === manifest;
      const size = files.reduce((sum, file) => sum + file.size, 0);
      have.textContent =
        files.length > 0
          ? words.say(files.length === 1 ? 'bring.have_one' : 'bring.have', { count: files.length, size: sizeOf(size) })
          : words.say(recalled && manifest !== '' ? 'bring.again' : 'bring.none');
      list.replaceChildren(...files.slice(0, MOST_NAMED).map(item));
      if (files.length > MOST_NAMED)
        list.append(el('li', {}, words.say('bring.more', { count: files.length - MOST_NAMED })));
    },
  };

  function sizeOf(bytes: number): string {
    const number = (value: number) => value.toLocaleString(words.locale, { maximumFractionDigits: 1 });
    return bytes < 1e6 ? `${number(Math.ceil(bytes / 1e3))}\u00a0kB` : `${number(bytes / 1e6)}\u00a0MB`;
  }

  function item(file: File): HTMLElement {
    const away = () => void remove(file).then(show);
    return el(
      'li',
      {},
      file.name,
      el('span', { class: 'optional' }, ` ${sizeOf(file.size)} `),
      el(
        'button',
        { type: 'button', class: 'quiet', 'aria-label': words.say('know.remove', { what: file.name }), onclick: away },
        words.say('bring.remove'),
      ),
    );
  }
}

/** Files of what was dropped, those in folders with their path. */
async function dropped(transfer: DataTransfer): Promise<File[]> {
  const entries = [...transfer.items].flatMap((item) => item.webkitGetAsEntry() ?? []);
  const found = await Promise.all(entries.map((entry) => filesIn(entry)));
  return found.flat();
}

async function filesIn(entry: FileSystemEntry): Promise<File[]> {
  if (entry.isFile) {
    const file = await new Promise<File>((resolve, reject) => (entry as FileSystemFileEntry).file(resolve, reject));
    const path = entry.fullPath.replace(/^\//, '');
    return [path === file.name ? file : new File([file], path, { lastModified: file.lastModified })];
  }
  const reader = (entry as FileSystemDirectoryEntry).createReader();
  const all: File[] = [];
  for (;;) {
    // A browser gives a folder in lots.
    const lot = await new Promise<FileSystemEntry[]>((resolve, reject) => reader.readEntries(resolve, reject));
    if (lot.length === 0) return all;
    all.push(...(await Promise.all(lot.map(filesIn))).flat());
  }
}
