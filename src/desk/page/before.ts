/** Before the log: what the card holds and how long to log, and the sheet that goes to the vehicle. */
import { work } from '../work.ts';
import type { Desk, Part } from './desk.ts';
import { download, el } from './dom.ts';
import { FIELDS } from './form/fields.ts';
import { shownOf } from './form/text.ts';
import { printPage } from './framed.ts';
import { planPart } from './plan.ts';

export function beforeSection(desk: Desk): Part {
  const { state, words } = desk;
  const plan = planPart(desk);
  const sheet = () => {
    const shown = shownOf(state.manifest);
    const values = Object.fromEntries(FIELDS.map((field) => [field.name, shown.value(field)]));
    return work<string>({ kind: 'sheet', values, language: state.language });
  };
  const root = el(
    'section',
    { 'aria-labelledby': 'before' },
    el('h2', { id: 'before' }, words.say('before.heading')),
    el('p', {}, words.say('before.help')),
    el(
      'p',
      { class: 'ways' },
      el(
        'button',
        { type: 'button', id: 'print-sheet', onclick: () => void sheet().then(printPage) },
        words.say('before.print'),
      ),
      el(
        'button',
        {
          type: 'button',
          id: 'save-sheet',
          onclick: () =>
            void sheet().then((html) => download(new Blob([html], { type: 'text/html' }), 'fitting-sheet.html')),
        },
        words.say('before.save'),
      ),
    ),
  );
  root.append(plan.root);
  return { root, show: plan.show };
}
