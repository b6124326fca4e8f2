/** Before anything is fitted: what the card holds, how long to log, how long the vehicle may stand. */
import { UserError } from '../../base/problem.ts';
import { CHEMISTRIES, type Chemistry } from '../../battery/chemistry.ts';
import { type Dimension, parseAccuracy, parseQuantity } from '../../manifest/quantity.ts';
import { type PlanAnswer, type PlanAsked, planAnswer } from '../../measures/plan.ts';
import { makeFormat } from '../../report/words/format.ts';
import type { Desk, Part } from './desk.ts';
import { el } from './dom.ts';
import { FIELDS } from './form/fields.ts';
import { shownOf } from './form/text.ts';

interface Asked {
  readonly key: keyof PlanAsked;
  /** `count`: a whole number; `accuracy`: as a maker states it. */
  readonly as: Dimension | 'count' | 'accuracy' | 'chemistry';
  readonly example: string;
}

const ASKED: readonly Asked[] = [
  { key: 'stepS', as: 'duration', example: '100 ms' },
  { key: 'rowBytes', as: 'count', example: '66' },
  { key: 'cardBytes', as: 'size', example: '2 GB' },
  { key: 'fileS', as: 'duration', example: '24 h' },
  { key: 'eventEveryS', as: 'duration', example: '36 h' },
  { key: 'times', as: 'count', example: '1' },
  { key: 'confidence', as: 'fraction', example: '95 %' },
  { key: 'drawA', as: 'current', example: '40 mA' },
  { key: 'capacityAh', as: 'charge', example: '70 Ah' },
  { key: 'charge', as: 'fraction', example: '80 %' },
  { key: 'chemistry', as: 'chemistry', example: '' },
  { key: 'temperatureC', as: 'temperature', example: '10 °C' },
  { key: 'accuracy', as: 'accuracy', example: '1 % + 5 mA' },
];
/** Known from the form already. */
const FROM_FORM: Readonly<Partial<Record<keyof PlanAsked, string>>> = {
  capacityAh: 'battery.capacity',
  chemistry: 'battery.chemistry',
  accuracy: 'log.columns.current.accuracy',
};
const TAKEN: Readonly<Partial<Record<keyof PlanAsked, string>>> = { times: '1', confidence: '95 %' };

export function planPart(desk: Desk): Part {
  const { state, words } = desk;
  const answers = el('dl', { class: 'answers', 'aria-live': 'polite' });
  const notes = el('ul', { class: 'hint' });
  const lines = ASKED.map((asked) => lineOf(asked));
  const root = el(
    'details',
    { class: 'part', id: 'plan' },
    el('summary', {}, words.say('before.plan')),
    ...lines.map((line) => line.root),
    answers,
    notes,
  );

  function typed(key: string, value: string): void {
    state.planned = { ...state.planned, [key]: value };
    desk.show();
  }

  function lineOf({ key, as, example }: Asked) {
    const id = `plan-${key}`;
    const message = el('span', { id: `${id}-message`, class: 'message' });
    const base = { id, 'aria-describedby': message.id, onchange: () => typed(key, input.value) };
    const input =
      as === 'chemistry'
        ? el(
            'select',
            base,
            el('option', { value: '' }, words.say('know.choose')),
            ...CHEMISTRIES.map((value) => el('option', { value }, words.label(`chemistry.${value}`, value))),
          )
        : el('input', { ...base, type: 'text', autocomplete: 'off', placeholder: example });
    return {
      key,
      input,
      root: el('div', { class: 'field' }, el('label', { for: id }, words.say(`plan.field.${key}`)), input, message),
      /** Undefined where nothing, or nothing sound, stands there. */
      value(): unknown {
        message.textContent = '';
        const text = input.value.trim() || (TAKEN[key] ?? '');
        if (text === '') return undefined;
        try {
          if (as === 'chemistry') return text as Chemistry;
          if (as === 'accuracy') return parseAccuracy(text, 'current');
          const number = as === 'count' ? Number(text) : parseQuantity(text, as);
          const most = as === 'fraction' ? 1 : Number.POSITIVE_INFINITY;
          const fits =
            as === 'temperature' || (number > 0 && number <= most && (as !== 'count' || Number.isInteger(number)));
          if (fits && !(key === 'confidence' && number === 1)) return number;
          message.textContent = words.say('plan.not_plausible');
        } catch (error) {
          if (!(error instanceof UserError)) throw error;
          message.textContent = words.message(error.message);
        }
        return undefined;
      },
    };
  }

  function show(): void {
    const shown = shownOf(state.manifest);
    for (const { key, input } of lines) {
      if (input.value === '') input.value = state.planned[key] ?? '';
      const field = FIELDS.find(({ name }) => name === FROM_FORM[key]);
      if (input.value === '' && field) input.value = shown.value(field);
      if (input.value !== '' || !state.sample) continue;
      if (key === 'stepS' && state.sample.stepS !== null) input.value = `${state.sample.stepS} s`;
      if (key === 'rowBytes') input.value = String(Math.round(state.sample.rowBytes));
    }
    const asked = Object.fromEntries(lines.map((line) => [line.key, line.value()])) as unknown as PlanAsked;
    const answer = planAnswer({ ...asked, times: asked.times ?? 1, confidence: asked.confidence ?? 0.95 });
    answers.replaceChildren(
      ...said(answer).flatMap(([key, text]) => [el('dt', {}, words.say(`plan.${key}`)), el('dd', {}, text)]),
    );
    notes.replaceChildren(
      ...answer.taken.map(({ key, ...facts }) => el('li', {}, words.say(`plan.note.${key}`, facts))),
    );
  }

  const format = makeFormat(words.locale, { offsetMs: () => 0 }, '');
  const hours = (h: number) =>
    h < 48 ? format.duration(h * 3600) : `${format.number(h, 0)}\u00a0h, ${format.days(h * 3600)}`;

  function said(answer: PlanAnswer): [string, string][] {
    const { hours_on_card, hours_to_see, stand_days, may_stand, limit } = answer;
    const stand =
      stand_days &&
      `${words.say('plan.days', { low: format.number(stand_days.low, 1), high: format.number(stand_days.high, 1) })} ${may_stand ? words.say(`plan.may_stand.${may_stand}`) : ''}`;
    const open =
      limit && words.say('plan.no_verdict', { from: format.mA(limit.open_from_a), to: format.mA(limit.open_to_a) });
    return [
      ['hours_on_card', hours_on_card === null ? lacks(answer, 'hours_on_card') : hours(hours_on_card)],
      ['hours_to_see', hours_to_see === null ? lacks(answer, 'hours_to_see') : hours(hours_to_see)],
      ['stand_days', stand ?? lacks(answer, 'stand_days')],
      ['limit', open ?? lacks(answer, 'limit')],
    ];
  }

  function lacks({ reasons }: PlanAnswer, key: string): string {
    const reason = reasons[key];
    if (reason?.kind !== 'missing') return '';
    return words.say('plan.lacks', { what: reason.what.map((one) => words.say(`plan.field.${one}`)).join(', ') });
  }

  return { root, show };
}
