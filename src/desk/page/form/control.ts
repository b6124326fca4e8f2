/** One field: its label, what is typed or chosen, and what the program says of it. */
import type { Problem } from '../../../base/problem.ts';
import { DRAFT_FIELDS } from '../../../manifest/draft-fields.ts';
import { understoodAnswer } from '../../../manifest/understood-answer.ts';
import { pathText } from '../../../manifest/yaml-tree.ts';
import { DATA } from '../../data.ts';
import type { Desk } from '../desk.ts';
import { el } from '../dom.ts';
import type { DeskWords } from '../words.ts';
import type { Field } from './fields.ts';
import type { Shown, Value } from './text.ts';

export interface Control {
  readonly field: Field;
  readonly root: HTMLElement;
  /** Brings it up to date; gives the problems that it has told. */
  show(shown: Shown, problems: readonly Problem[]): readonly Problem[];
}

/** Lists of proposals that the page holds, by the field's name. */
const PROPOSED: Readonly<Record<string, string>> = {
  'session.timezone': 'zones',
  'photos.file': 'pictures',
  'limits.from': 'sessions',
  'log.columns.time.name': 'columns',
  'log.columns.time.clock': 'columns',
  'log.columns.time.format': 'formats',
  'log.columns.voltage.name': 'columns',
  'log.columns.current.name': 'columns',
  'log.columns.temperature.name': 'columns',
  'log.channels.name': 'columns',
};
const LOCAL = /^\d{4}-\d\d-\d\dT\d\d:\d\d(:\d\d)?$/;
const MOST_OFFERED = 16;
/** Text that is more than a line. */
const LONG = ['session.concern', 'notes.text', 'assessment.text'];

export function controlOf(field: Field, { state, words, change }: Desk): Control {
  const id = `field-${field.way.join('-').replaceAll('_', '-')}`;
  const [hint, message] = [`${id}-hint`, `${id}-message`];
  const choices = choicesOf(field, words);
  const hintText = words.has(`hint.${field.name}`) ? words.say(`hint.${field.name}`) : '';
  const base = { id, 'aria-describedby': `${hint} ${message}`, onchange: () => change(field, typedValue()) };
  const example = words.has(`example.${field.name}`) ? words.say(`example.${field.name}`) : undefined;
  const input =
    choices.length > 0
      ? el('select', base, el('option', { value: '' }, words.say('know.choose')), ...choices)
      : LONG.includes(field.name)
        ? el('textarea', { ...base, rows: '2', placeholder: example })
        : el('input', {
            ...base,
            type: field.kind === 'moment' ? 'datetime-local' : 'text',
            autocomplete: 'off',
            list: PROPOSED[field.name],
            placeholder: example,
          });

  function typedValue(): Value {
    const typed = input.value.trim();
    if (typed === '') return typed;
    if (field.kind === 'flag') return typed === 'true';
    if (field.kind === 'number' && /^\d+$/.test(typed)) return Number(typed);
    // A column without a name has a number.
    if (PROPOSED[field.name] === 'columns' && state.sample?.columns.includes(Number(typed))) return Number(typed);
    const draft = DRAFT_FIELDS.find(({ section, key }) => field.name === `${section}.${key}`);
    return draft ? understoodAnswer(draft, typed) : typed;
  }

  function offered(): readonly (string | number)[] {
    const { sample } = state;
    if (PROPOSED[field.name] === 'formats') return sample?.time?.formats ?? [];
    return PROPOSED[field.name] === 'columns' ? (sample?.columns.slice(0, MOST_OFFERED) ?? []) : [];
  }

  const optional = field.required ? null : el('span', { class: 'optional' }, ` (${words.say('know.optional')})`);
  const said = el('span', { id: message, class: 'message' });
  const proposed = el('span', { class: 'ways' });
  const root = el(
    'div',
    { class: 'field' },
    el('label', { for: id }, labelOf(field, words), optional),
    input,
    el('span', { id: hint, class: 'hint' }, hintText),
    said,
    proposed,
  );
  return {
    field,
    root,
    show(shown, problems) {
      const value = shown.value(field);
      if (field.kind === 'moment' && input instanceof HTMLInputElement)
        input.type = value === '' || LOCAL.test(value) ? 'datetime-local' : 'text';
      if (input.value !== value && (input !== document.activeElement || value !== '')) input.value = value;
      // A word that is none of the choices is told of, and not put in place of another.
      if (input instanceof HTMLSelectElement && input.value !== value) input.value = '';
      const own = problems.filter(({ path }) => isOf(path, field));
      const open = value === '' && own.length > 0;
      said.replaceChildren(
        ...(open && own.every(({ message }) => message.startsWith('Missing'))
          ? [words.say('know.open')]
          : own.map((problem) => `${words.message(problem.message)} `)),
      );
      said.classList.toggle('open', open);
      // What is asked for is not optional.
      if (optional) optional.hidden = own.length > 0;
      // What the log offers is said by one press.
      proposed.replaceChildren(
        ...(open ? offered() : []).map((value) =>
          el('button', { type: 'button', onclick: () => change(field, value) }, String(value)),
        ),
      );
      input.setAttribute('aria-invalid', String(own.length > 0 && !open));
      return own;
    },
  };
}

export function labelOf({ name }: Field, words: DeskWords): string {
  return words.has(`field.${name}`) ? words.say(`field.${name}`) : name;
}

function choicesOf({ name, kind, choices, way }: Field, words: DeskWords): HTMLOptionElement[] {
  const option = (value: string, text: string) => el('option', { value }, text);
  if (kind === 'flag') return ['true', 'false'].map((value) => option(value, words.say(`flag.${value}`)));
  if (name === 'session.language')
    return DATA.languages.map((language) => option(language, nameOfLanguage(language, words.language)));
  const key = String(way.at(-1));
  return choices.map((choice) => {
    const own = `choice.${key}.${choice}`;
    return option(choice, words.has(own) ? words.say(own) : words.label(`${key}.${choice}`, choice));
  });
}

export const nameOfLanguage = (language: string, inLanguage: string) =>
  new Intl.DisplayNames([inLanguage], { type: 'language' }).of(language) ?? language;

function isOf(path: string | undefined, { way, alone }: Field): boolean {
  if (path === undefined) return false;
  const own = pathText(way);
  const group = pathText(way.slice(0, -1));
  return (
    path === own ||
    path.startsWith(`${own}.`) ||
    path.startsWith(`${own}[`) ||
    ((alone || way.at(-1) === 'name') && path === group)
  );
}
