/** The desk: one column, read from top to bottom. */
import { UserError } from '../../base/problem.ts';
import { there } from '../../base/there.ts';
import type { LogSample } from '../../log/sample/sample.ts';
import { draftManifest, type Given } from '../../manifest/draft.ts';
import { idFrom } from '../../manifest/draft-fields.ts';
import { DATA } from '../data.ts';
import { givenOf } from '../files.ts';
import { work } from '../work.ts';
import { bringSection } from './bring.ts';
import type { Desk, Part } from './desk.ts';
import { el } from './dom.ts';
import { knowSection } from './know.ts';
import { readSection } from './read.ts';
import { recall, remember, type State } from './state.ts';
import { understoodSection } from './understood.ts';
import { type DeskWords, deskWords } from './words.ts';

const HEAD_BYTES = 4096;

export function startPage(): void {
  const known = recall();
  const wished = known?.language ?? DATA.shop?.language ?? navigator.language.slice(0, 2);
  const state: State = {
    language: DATA.languages.includes(wished) ? wished : 'en',
    files: [],
    manifest: known?.manifest ?? '',
    own: false,
    sample: null,
    head: [],
    refused: null,
    built: [],
  };
  draw(state);
}

function draw(state: State): void {
  const words = deskWords(state.language);
  document.documentElement.lang = state.language;
  document.title = `${words.say('title')} · Standstill`;
  let parts: readonly Part[] = [];
  const show = () => {
    for (const part of parts) part.show();
    remember(state);
  };
  const desk: Desk = {
    state,
    words,
    async bring(files) {
      const given = givenOf(files);
      const manifest = given.find(({ path }) => path === 'session.yaml');
      state.files = given.flatMap(({ path, file }) => (path === 'session.yaml' ? [] : [withPath(file as File, path)]));
      state.own = manifest !== undefined;
      state.built = [];
      if (manifest) state.manifest = await manifest.file.text();
      await lookAt(state, words);
      show();
    },
    write(text) {
      state.manifest = text;
      show();
    },
    filesToRead: () => [...state.files, new File([state.manifest], 'session.yaml')],
  };
  parts = [bringSection(desk), understoodSection(desk), knowSection(desk), readSection(desk)];
  document.body.replaceChildren(heading(state, words), el('main', {}, ...parts.map(({ root }) => root)));
  show();
}

function heading(state: State, words: DeskWords): HTMLElement {
  const choose = el('select', {
    id: 'language',
    onchange: () => {
      state.language = choose.value;
      remember(state);
      draw(state);
    },
  });
  for (const language of DATA.languages) {
    const name = new Intl.DisplayNames([language], { type: 'language' }).of(language) ?? language;
    choose.append(el('option', { value: language, lang: language, selected: language === state.language }, name));
  }
  const shop = DATA.shop?.name ? el('p', { class: 'shop' }, DATA.shop.name) : null;
  return el(
    'header',
    {},
    shop,
    el('h1', {}, words.say('title')),
    el('p', {}, words.say('lead')),
    el('p', {}, el('label', { for: 'language' }, words.say('language')), ' ', choose),
  );
}

/** The path within the session's folder is the file's name from here on. */
function withPath(file: File, path: string): File {
  return path === file.name && !file.webkitRelativePath
    ? file
    : new File([file], path, { lastModified: file.lastModified, type: file.type });
}

export const isLog = (name: string) => /\.(?:csv|tsv|txt)(?:\.gz)?$|\.parquet$/i.test(name);

/** Looks into the first log, and drafts a manifest where the folder brings none. */
async function lookAt(state: State, words: DeskWords): Promise<void> {
  [state.sample, state.refused, state.head] = [null, null, []];
  const logs = state.files.filter(({ name }) => isLog(name));
  const [first] = logs;
  if (!first) return;
  if (!/\.(?:gz|parquet)$/i.test(first.name))
    state.head = (await first.slice(0, HEAD_BYTES).text()).split(/\r?\n/).slice(0, 6);
  try {
    const given = [{ path: first.name, file: first }];
    state.sample = await work<LogSample>({ kind: 'sample', given, path: first.name });
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    state.refused = error.message;
  }
  if (!state.own && state.sample) state.manifest = draftOf(state.sample, logs, words);
}

function draftOf(sample: LogSample, logs: readonly File[], words: DeskWords): string {
  const timezone = Intl.DateTimeFormat().resolvedOptions().timeZone;
  const values: Record<`${'session' | 'vehicle' | 'battery' | 'current'}.${string}`, Given> = {
    'session.timezone': {
      value: timezone,
      reason: "this computer's; change it if the logger's clock is set to another",
    },
    'session.language': { value: words.language },
  };
  if (sample.systemV)
    values['vehicle.system_voltage'] = { value: `${sample.systemV.value} V`, reason: sample.systemV.reason };
  if (sample.positive) values['current.positive'] = sample.positive;
  const name =
    there(logs[0])
      .name.split('/')
      .at(-1)
      ?.replace(/\.[^.]*$/, '') ?? '';
  return draftManifest({
    id: { value: idFrom(name), reason: "from the log's name" },
    values,
    log: { ...sample, files: logs.map((log) => log.name).sort() },
  });
}
