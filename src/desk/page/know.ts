/** Say what only you know: a form over `session.yaml`, every message beside its field, and the text itself. */
import type { Problem } from '../../base/problem.ts';
import { DATA } from '../data.ts';
import type { Desk, Part } from './desk.ts';
import { download, el } from './dom.ts';
import { FORM_FIELDS, type FormField } from './fields.ts';
import { problemsOf, valueAt, withValue } from './manifest.ts';

interface Control {
  readonly field: FormField;
  readonly input: HTMLInputElement | HTMLSelectElement;
  readonly message: HTMLElement;
}

export function knowSection(desk: Desk): Part {
  const { state, words, write } = desk;
  const controls = FORM_FIELDS.map((field) => controlOf(field, desk));
  const sections = [...new Set(FORM_FIELDS.map(({ section }) => section))].map((section) =>
    el(
      'fieldset',
      {},
      el('legend', {}, words.say(`section.${section}`)),
      ...controls.filter(({ field }) => field.section === section).map((control) => line(control, desk)),
    ),
  );
  const text = el('textarea', { id: 'text', rows: '18', spellcheck: 'false', onchange: () => write(text.value) });
  const open = el('div', { role: 'status' });
  const root = el(
    'section',
    { 'aria-labelledby': 'know' },
    el('h2', { id: 'know' }, words.say('know.heading')),
    el('p', {}, words.say('know.help')),
    el('form', { onsubmit: (event) => event.preventDefault() }, ...sections),
    open,
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
        { type: 'button', onclick: () => download(new Blob([state.manifest], { type: 'text/yaml' }), 'session.yaml') },
        words.say('know.save'),
      ),
      ' ',
      el('button', { type: 'button', onclick: () => write('') }, words.say('know.start_anew')),
    ),
  );
  return {
    root,
    show() {
      root.hidden = state.manifest === '' && state.files.length === 0;
      if (text.value !== state.manifest) text.value = state.manifest;
      const problems = openProblems(desk);
      const told = new Set<Problem>();
      for (const { field, input, message } of controls) {
        const value = valueAt(state.manifest, field.way);
        if (input !== document.activeElement && input.value !== value) input.value = value;
        const own = problems.filter(
          ({ path }) => path === field.way.join('.') || path?.startsWith(`${field.way.join('.')}.`),
        );
        for (const problem of own) told.add(problem);
        message.textContent = own.map((problem) => problem.message).join(' ');
        input.setAttribute('aria-invalid', String(own.length > 0));
      }
      const rest = problems.filter((problem) => !told.has(problem));
      open.replaceChildren(
        el(
          'p',
          {},
          problems.length === 0 ? words.say('know.sound') : words.say('know.faults', { count: problems.length }),
        ),
        el(
          'ul',
          { lang: 'en' },
          ...rest.map(({ path, line, message }) =>
            el('li', {}, [line ? `${line}: ` : '', path ? `${path}: ` : '', message].join('')),
          ),
        ),
      );
    },
  };
}

export function openProblems({ state }: Desk): readonly Problem[] {
  return state.manifest === ''
    ? [{ message: '' }]
    : problemsOf(
        state.manifest,
        state.files.map(({ name }) => name),
      );
}

function controlOf(field: FormField, { state, words, write }: Desk): Control {
  const id = `field-${field.name.replace('.', '-')}`;
  const described = `${id}-message`;
  const choices = field.name === 'session.language' ? DATA.languages : field.choices;
  const change = () => write(withValue(state.manifest, field.way, input.value.trim()));
  const input =
    choices.length > 0
      ? el('select', { id, 'aria-describedby': described, onchange: change })
      : el('input', {
          id,
          type: 'text',
          autocomplete: 'off',
          'aria-describedby': described,
          placeholder: field.taken,
          onchange: change,
        });
  if (input instanceof HTMLSelectElement) {
    input.append(el('option', { value: '' }, words.say('know.choose')));
    const group = field.way[field.way.length - 1];
    for (const choice of choices)
      input.append(el('option', { value: choice }, words.label(`${group}.${choice}`, choice)));
  }
  return { field, input, message: el('span', { id: described, class: 'message', lang: 'en' }) };
}

function line({ field, input, message }: Control, { words }: Desk): HTMLElement {
  const optional = field.required ? null : el('span', { class: 'optional' }, ` (${words.say('know.optional')})`);
  return el(
    'p',
    { class: 'field' },
    el('label', { for: input.id }, words.say(`field.${field.name}`), optional),
    input,
    message,
  );
}
