/** Say what only you know: a form over `session.yaml`, every message beside its field, and the text itself. */
import type { Problem } from '../../../base/problem.ts';
import type { Desk, Part } from '../desk.ts';
import { download, el } from '../dom.ts';
import { isLog, isPicture } from '../names.ts';
import type { State } from '../state.ts';
import { signsSaid } from '../understood.ts';
import { controlOf } from './control.ts';
import { FIELDS } from './fields.ts';
import { FORM, type FormPart } from './layout.ts';
import { listOf } from './list.ts';
import { problemsOf, type Shown, shownOf } from './text.ts';

interface Laid {
  readonly root: HTMLElement;
  show(shown: Shown, problems: readonly Problem[]): readonly Problem[];
}

export function knowSection(desk: Desk): Part {
  const { state, words, write, startAnew } = desk;
  const parts = FORM.map((part) => laid(part, desk));
  const text = el('textarea', { id: 'text', rows: '22', spellcheck: 'false', onchange: () => write(text.value) });
  const told = el('p', { role: 'status', id: 'faults' });
  const rest = el('ul', { class: 'message' });
  const proposals = el('div', { hidden: true });
  // Four hundred, the same at all times.
  const zones = listed('zones', Intl.supportedValuesOf('timeZone'));
  const root = el(
    'section',
    { 'aria-labelledby': 'know' },
    el('h2', { id: 'know' }, words.say('know.heading')),
    el('p', {}, words.say('know.help')),
    el('form', { onsubmit: (event) => event.preventDefault() }, ...parts.map((part) => part.root)),
    proposals,
    told,
    rest,
    el(
      'details',
      {},
      el('summary', {}, words.say('know.text')),
      el('label', { for: 'text', class: 'unseen' }, words.say('know.text')),
      text,
    ),
    el(
      'p',
      {},
      el(
        'button',
        {
          type: 'button',
          id: 'save-manifest',
          onclick: () => download(new Blob([state.manifest], { type: 'text/yaml' }), 'session.yaml'),
        },
        words.say('know.save'),
      ),
      ' ',
      el('button', { type: 'button', id: 'start-anew', onclick: startAnew }, words.say('know.start_anew')),
    ),
  );
  return {
    root,
    show() {
      root.hidden = state.manifest === '';
      if (root.hidden) return;
      if (text.value !== state.manifest) text.value = state.manifest;
      proposals.replaceChildren(zones, ...proposalsFor(desk));
      const problems = [...openProblems(desk), ...unreadBy(state)];
      const shown = shownOf(state.manifest);
      const own = new Set(parts.flatMap((part) => [...part.show(shown, problems)]));
      told.textContent =
        problems.length === 0 ? words.say('know.sound') : words.say('know.faults', { count: problems.length });
      rest.replaceChildren(
        ...problems
          .filter((problem) => !own.has(problem))
          .map(({ path, line, message }) =>
            el(
              'li',
              {},
              [line ? `session.yaml:${line} ` : '', path ? `${path}: ` : '', words.message(message)].join(''),
            ),
          ),
      );
    },
  };
}

let known: { readonly text: string; readonly names: string; readonly problems: readonly Problem[] } | null = null;

/** What `check` says of manifest and names; asked by several parts of the page. */
export function openProblems({ state }: Desk): readonly Problem[] {
  const files = state.files.map(({ name }) => name);
  const names = files.join('\n');
  if (known?.text !== state.manifest || known.names !== names)
    known = { text: state.manifest, names, problems: problemsOf(state.manifest, files) };
  return [...withoutLog(known.problems, state), ...timesOpen(state)];
}

/** What only the log tells is not asked before it is there. */
function withoutLog(problems: readonly Problem[], { files }: State): readonly Problem[] {
  return files.some(({ name }) => isLog(name)) ? problems : problems.filter(({ path }) => !path?.startsWith('log'));
}

/** The first rows may be read in more than one way; and a count from a log's start does not tell when that was. */
function timesOpen({ sample, own, manifest }: State): readonly Problem[] {
  const time = sample?.time;
  if (!time || own) return [];
  const shown = shownOf(manifest);
  const valueAt = (path: string) => FIELDS.filter(({ name }) => name === path).map((field) => shown.value(field))[0];
  const open: Problem[] = [];
  if (time.how === null && time.formats.length > 0 && valueAt(FORMAT) === '')
    open.push({ path: FORMAT, message: time.reason });
  if (valueAt(FORMAT)?.startsWith('elapsed') && valueAt(START) === '') open.push({ path: START, message: 'Missing.' });
  return open;
}

/** What reading the log found wrong in the manifest stands beside its field too. */
const unreadBy = ({ unread, manifest }: State): readonly Problem[] =>
  unread?.manifest === manifest ? unread.problems.filter(({ path }) => path !== undefined) : [];

const FORMAT = 'log.columns.time.format';
const START = 'log.start';

function laid(part: FormPart, desk: Desk): Laid {
  const { words, state } = desk;
  const controls = part.fields.map((field) => controlOf(field, desk));
  const lists = part.lists.map((list) => listOf(list, desk));
  const name = words.say(`section.${part.name}`);
  const signs = part.name === 'sensor' ? el('p', { class: 'asked' }) : null;
  const help = words.has(`about.${part.name}`) ? el('p', { class: 'hint' }, words.say(`about.${part.name}`)) : null;
  const content = [help, signs, ...controls.map(({ root }) => root), ...lists.map(({ root }) => root)];
  const count = el('span', { class: 'optional' });
  const root = part.folded
    ? el('details', { class: 'part', id: `part-${part.name}` }, el('summary', {}, name, count), ...content)
    : el('fieldset', { class: 'part' }, el('legend', {}, name), ...content);
  return {
    root,
    show(shown, problems) {
      if (signs) signs.textContent = state.sample ? signsSaid(state.sample, words) : '';
      const told = [...controls, ...lists].flatMap((one) => [...one.show(shown, problems)]);
      const items = part.lists.reduce((sum, { way }) => sum + shown.count(way), 0);
      count.textContent = items > 0 ? ` (${items})` : '';
      if (told.length > 0 && root instanceof HTMLDetailsElement) root.open = true;
      return told;
    },
  };
}

/** What fields propose: columns of the log, pictures that were brought, sessions of the archive. */
function proposalsFor({ state }: Desk): HTMLElement[] {
  const lists = {
    columns: (state.sample?.columns ?? []).map(String),
    pictures: state.files.map(({ name }) => name).filter(isPicture),
    sessions: state.archive?.ids ?? [],
    formats: state.sample?.time?.formats ?? [],
  };
  return Object.entries(lists).map(([id, values]) => listed(id, values));
}

const listed = (id: string, values: readonly string[]) =>
  el('datalist', { id }, ...values.map((value) => el('option', { value })));
