/** The head of the page: the shop, what the page is for, and its language. */
import { DATA } from '../data.ts';
import type { Part } from './desk.ts';
import { el } from './dom.ts';
import { nameOfLanguage } from './form/control.ts';
import { FIELDS } from './form/fields.ts';
import { shownOf, withValue } from './form/text.ts';
import type { State } from './state.ts';
import type { DeskWords } from './words.ts';

/** @param drawAnew the page, in the language that was chosen */
export function headingOf(state: State, words: DeskWords, drawAnew: () => void): Part {
  const choose = el('select', {
    id: 'language',
    onchange: () => {
      choice(state, choose.value);
      drawAnew();
      document.getElementById('language')?.focus();
    },
  });
  for (const language of DATA.languages) {
    const name = nameOfLanguage(language, language);
    choose.append(el('option', { value: language, lang: language, selected: language === state.language }, name));
  }
  return {
    root: el(
      'header',
      {},
      shopHead(),
      el('h1', {}, words.say('title')),
      el('p', {}, words.say('lead')),
      el('p', {}, el('label', { for: 'language' }, words.say('language')), ' ', choose),
    ),
    show() {
      // What is being read goes on telling of itself in the page as it stands.
      choose.disabled = state.reading;
    },
  };
}

/** A report that was to come in the page's language comes in the new one; a person who said another meant it. */
function choice(state: State, language: string): void {
  const field = FIELDS.find(({ name }) => name === 'session.language');
  if (field && !state.own && shownOf(state.manifest).value(field) === state.language)
    state.manifest = withValue(state.manifest, field, language);
  [state.language, state.chosen] = [language, language];
}

function shopHead(): HTMLElement | null {
  const { shop } = DATA;
  if (!shop?.name && !shop?.logo) return null;
  return el(
    'div',
    { class: 'shop' },
    shop.logo ? el('img', { src: shop.logo, alt: shop.name ?? '' }) : null,
    el('p', {}, el('b', {}, shop.name ?? ''), ...shop.address.map((line) => el('span', {}, ` ${line}`))),
  );
}
