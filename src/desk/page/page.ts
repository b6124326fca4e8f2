/** The desk: one column, read from top to bottom. */

import { there } from '../../base/there.ts';
import { fontFaces } from '../../report/page/font-faces.ts';
import { DATA } from '../data.ts';
import { givenOf } from '../files.ts';
import { turn } from '../turn.ts';
import { prepare, work } from '../work.ts';
import { archiveSection } from './archive.ts';
import { beforeSection } from './before.ts';
import { bringSection } from './bring.ts';
import type { Desk, Part } from './desk.ts';
import { el } from './dom.ts';
import { knowSection } from './form/know.ts';
import { withItem, withValue } from './form/text.ts';
import { headingOf } from './heading.ts';
import { adopt, emptyManifest, lookAt } from './look.ts';
import { readSection } from './read.ts';
import { recall, remember, type State } from './state.ts';
import { understoodSection } from './understood.ts';
import { type DeskWords, deskWords } from './words.ts';

export async function startPage(): Promise<void> {
  // The script itself takes as long as what it draws.
  await turn();
  document.head.append(el('style', {}, fontFaces({ font: (file) => there(DATA.fonts[file]) })));
  const known = recall();
  draw({
    chosen: known?.language ?? null,
    language: languageOf(known?.language ?? null),
    files: [],
    manifest: known?.manifest ?? '',
    before: null,
    own: false,
    sample: null,
    head: [],
    refused: null,
    built: null,
    unread: null,
    archive: null,
    planned: known?.planned ?? {},
    reading: false,
  });
  // To start one takes a second: it waits for the log that is to come.
  await turn();
  await prepare();
}

/** As its reader chose; else as whoever wrote the page said; else the first of the browser's that there is. */
function languageOf(chosen: string | null): string {
  const wished = [chosen, DATA.language, ...navigator.languages.map((tag) => tag.split('-')[0])];
  return wished.find((one) => one && DATA.languages.includes(one)) ?? 'en';
}

function draw(state: State): void {
  const words = deskWords(state.language);
  document.documentElement.lang = state.language;
  document.title = `${words.say('title')} · Standstill`;
  const desk = deskOf(state, words);
  const sections = [beforeSection, bringSection, understoodSection, knowSection, readSection, archiveSection];
  const heading = headingOf(state, words, () => draw(state));
  const parts: readonly Part[] = sections.map((section) => section(desk));
  desk.parts.push(heading, ...parts);
  document.body.replaceChildren(heading.root, el('main', {}, ...parts.map(({ root }) => root)));
  desk.show();
}

function deskOf(state: State, words: DeskWords): Desk & { readonly parts: Part[] } {
  const parts: Part[] = [];
  const show = () => {
    for (const part of parts) part.show();
    remember(state);
  };
  const write = (manifest: string) => {
    state.manifest = manifest;
    show();
  };
  const look = async () => {
    [state.built, state.unread] = [null, null];
    await lookAt(state);
    adopt(state, words);
    show();
  };
  return {
    state,
    words,
    parts,
    show,
    write,
    async bring(files) {
      const given = givenOf(files);
      const manifest = given.find(({ path }) => path === 'session.yaml');
      const others = given.flatMap(({ path, file }) => (path === 'session.yaml' ? [] : [withPath(file as File, path)]));
      const names = new Set(others.map(({ name }) => name));
      state.files = [...(manifest ? [] : state.files.filter(({ name }) => !names.has(name))), ...others];
      if (manifest) {
        const text = await manifest.file.text();
        if (state.manifest !== '' && state.manifest !== text) state.before = state.manifest;
        state.manifest = text;
        state.own = true;
      }
      await look();
    },
    async remove(file) {
      state.files = state.files.filter((one) => one !== file);
      await look();
    },
    change: (field, value) => write(withValue(state.manifest, field, value)),
    addItem: (list) => write(withItem(state.manifest, list.way, {})),
    removeItem: (list, at) => write(withItem(state.manifest, list.way, null, at)),
    startAnew() {
      state.before = state.manifest === '' ? null : state.manifest;
      state.own = false;
      state.manifest = '';
      if (state.files.length > 0) adopt(state, words);
      else state.manifest = emptyManifest(words);
      show();
    },
    async useArchive(name, source) {
      state.archive = { name, source, ids: await work<string[]>({ kind: 'sessions', source }) };
      show();
    },
    filesToRead: () => [...state.files, new File([state.manifest], 'session.yaml')],
  };
}

/** The path within the session's folder is the file's name from here on. */
function withPath(file: File, path: string): File {
  return path === file.name && !file.webkitRelativePath
    ? file
    : new File([file], path, { lastModified: file.lastModified, type: file.type });
}
