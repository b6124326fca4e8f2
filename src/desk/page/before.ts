/** Before the log: what the card holds and how long to log, and the sheet that goes to the vehicle. */
import { renderFittingSheet, sheetHead } from '../../report/page/fitting-sheet.ts';
import { contentOf } from '../content.ts';
import { DATA } from '../data.ts';
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
    const value = (path: string) => {
      const field = FIELDS.find(({ name }) => name === path);
      return (field && shown.value(field)) || undefined;
    };
    const content = contentOf(state.language);
    return renderFittingSheet(sheetHead(value, content), { pageSize: DATA.shop?.pageSize ?? 'a4', content });
  };
  const root = el(
    'section',
    { 'aria-labelledby': 'before' },
    el('h2', { id: 'before' }, words.say('before.heading')),
    el('p', {}, words.say('before.help')),
    el(
      'p',
      { class: 'ways' },
      el('button', { type: 'button', id: 'print-sheet', onclick: () => printPage(sheet()) }, words.say('before.print')),
      el(
        'button',
        {
          type: 'button',
          id: 'save-sheet',
          onclick: () => download(new Blob([sheet()], { type: 'text/html' }), 'fitting-sheet.html'),
        },
        words.say('before.save'),
      ),
    ),
  );
  root.append(plan.root);
  return { root, show: plan.show };
}
