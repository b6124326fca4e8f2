/** Bring the log: dropped, or chosen. */

import type { Desk, Part } from './desk.ts';
import { el } from './dom.ts';

export function bringSection({ state, words, bring }: Desk): Part {
  const input = (id: string, folder: boolean) => {
    const made = el('input', {
      id,
      type: 'file',
      multiple: true,
      webkitdirectory: folder,
      onchange: () => void bring([...(made.files ?? [])]),
    });
    return made;
  };
  const have = el('p', { role: 'status' });
  const zone = el(
    'div',
    {
      class: 'drop',
      ondragover: (event) => event.preventDefault(),
      ondrop: (event) => {
        event.preventDefault();
        const { dataTransfer } = event as DragEvent;
        if (dataTransfer) void dropped(dataTransfer).then(bring);
      },
    },
    el('p', {}, words.say('bring.help')),
    el('p', {}, el('label', { for: 'log' }, words.say('bring.files')), ' ', input('log', false)),
    el('p', {}, el('label', { for: 'folder' }, words.say('bring.folder')), ' ', input('folder', true)),
    have,
  );
  const root = el(
    'section',
    { 'aria-labelledby': 'bring' },
    el('h2', { id: 'bring' }, words.say('bring.heading')),
    zone,
  );
  return {
    root,
    show() {
      const { files, manifest } = state;
      const size = files.reduce((sum, file) => sum + file.size, 0);
      have.textContent =
        files.length > 0
          ? words.say('bring.have', { count: files.length, size: `${(size / 1e6).toFixed(1)}\u00a0MB` })
          : words.say(manifest === '' ? 'bring.none' : 'bring.again');
    },
  };
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
