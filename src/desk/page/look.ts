/** A look into what was brought, and the `session.yaml` that comes of it. */
import { parseDocument, visit } from 'yaml';
import { UserError } from '../../base/problem.ts';
import { sniffEncoding } from '../../log/rows/encoding.ts';
import type { LogSample } from '../../log/sample/sample.ts';
import { draftManifest, type Given, NO_SAMPLE } from '../../manifest/draft.ts';
import { type DraftPath, idFrom } from '../../manifest/draft-fields.ts';
import { work } from '../work.ts';
import { FIELDS, LISTS } from './form/fields.ts';
import { shownOf, withItem, withLogs, withPart } from './form/text.ts';
import { isLog, isPicture } from './names.ts';
import type { State } from './state.ts';
import type { DeskWords } from './words.ts';

const HEAD_BYTES = 4096;
const HEAD_LINES = 6;

const logsOf = ({ files }: State) =>
  files
    .map(({ name }) => name)
    .filter(isLog)
    .sort();

/** Into the first log. */
export async function lookAt(state: State): Promise<void> {
  [state.sample, state.refused, state.head] = [null, null, []];
  const [name] = logsOf(state);
  const first = state.files.find((file) => file.name === name);
  if (!first || /\.parquet$/i.test(first.name)) return;
  if (!/\.gz$/i.test(first.name))
    state.head = textOf(await first.slice(0, HEAD_BYTES).arrayBuffer())
      .split(/\r?\n/)
      .slice(0, HEAD_LINES);
  try {
    const given = [{ path: first.name, file: first }];
    state.sample = await work<LogSample>({ kind: 'sample', given, path: first.name });
  } catch (error) {
    state.refused = error instanceof UserError ? error.problems.map(({ message }) => message) : [String(error)];
  }
}

function textOf(head: ArrayBuffer): string {
  const { encoding } = sniffEncoding(new Uint8Array(head));
  return new TextDecoder(encoding === 'latin-1' ? 'windows-1252' : encoding).decode(head);
}

/** Drafts a manifest where there is none; one that was typed before keeps what it says, and takes the new log. */
export function adopt(state: State, words: DeskWords): void {
  const logs = logsOf(state);
  if (state.own || logs.length === 0) return;
  const draft = draftOf(state.sample, logs, words);
  if (state.manifest === '') state.manifest = draft;
  else if (fits(state)) state.manifest = withLogs(state.manifest, logs);
  else state.manifest = withPart(state.manifest, ['log'], draft);
  for (const { name } of state.files) if (isPicture(name)) addPicture(state, name);
}

export const emptyManifest = (words: DeskWords) => draftOf(null, [], words);

/** The columns that the manifest names are those of the log. */
function fits({ manifest, sample }: State): boolean {
  if (sample === null) return true;
  const shown = shownOf(manifest);
  const there = new Set(sample.columns.map(String));
  const named = FIELDS.filter(({ name }) => /^log\.columns\.\w+\.name$/.test(name))
    .map((field) => shown.value(field))
    .filter(Boolean);
  return named.length > 1 && named.every((name) => there.has(name));
}

function addPicture(state: State, name: string): void {
  const list = LISTS.find((one) => one.name === 'photos');
  const file = list?.fields.find((field) => field.name === 'photos.file');
  if (!list || !file) return;
  const shown = shownOf(state.manifest);
  const named = Array.from({ length: shown.count(list.way) }, (_, n) =>
    shown.value({ ...file, way: [...list.way, n, ...file.way] }),
  );
  if (!named.includes(name)) state.manifest = withItem(state.manifest, list.way, { file: name });
}

function draftOf(sample: LogSample | null, logs: readonly string[], words: DeskWords): string {
  const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
  const values: Record<DraftPath, Given> = {
    'session.timezone': {
      value: timeZone,
      reason: "this computer's; change it if the logger's clock is set to another",
    },
    'session.language': { value: words.language },
  };
  if (sample?.systemV)
    values['vehicle.system_voltage'] = { value: `${sample.systemV.value} V`, reason: sample.systemV.reason };
  if (sample?.positive) values['current.positive'] = sample.positive;
  const name = logs[0]
    ?.split('/')
    .at(-1)
    ?.replace(/\.[^.]*$/, '');
  const draft = draftManifest({
    id: { value: idFrom(name ?? ''), reason: "from the log's name" },
    values,
    log: { ...(sample ?? NO_SAMPLE), files: logs.length > 0 ? logs : NO_SAMPLE.files },
  });
  return words.language === 'en' ? draft : withoutComments(draft);
}

/** They are English, and say what the form says in its reader's language. */
function withoutComments(text: string): string {
  const document = parseDocument(text);
  document.commentBefore = null;
  document.comment = null;
  visit(document, {
    Node(_, node) {
      node.commentBefore = null;
      node.comment = null;
    },
  });
  return document.toString({ lineWidth: 0, nullStr: '' });
}
