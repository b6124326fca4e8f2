/** What was understood of the log: columns with their reasons, the step, the sign of the current, the first lines. */
import type { LogSample } from '../../log/sample/sample.ts';
import type { Desk, Part } from './desk.ts';
import { el } from './dom.ts';
import type { DeskWords } from './words.ts';

export function understoodSection({ state, words }: Desk): Part {
  const body = el('div');
  const root = el(
    'section',
    { 'aria-labelledby': 'understood', hidden: true },
    el('h2', { id: 'understood' }, words.say('understood.heading')),
    body,
  );
  return {
    root,
    show() {
      const { sample, own, refused, head } = state;
      root.hidden = sample === null && refused === null;
      body.replaceChildren(
        ...(own ? [el('p', {}, words.say('understood.own'))] : []),
        ...(refused === null
          ? []
          : [
              el(
                'p',
                { role: 'alert' },
                words.say('understood.refused', { why: refused.map(words.message).join(' ') }),
              ),
            ]),
        ...(sample ? seen(sample, words) : []),
        ...(head.length > 0
          ? [el('h3', { id: 'rows' }, words.say('understood.rows')), el('pre', { tabindex: '0' }, head.join('\n'))]
          : []),
      );
    },
  };
}

/** What the log shows of the current's sign, for a person to tell it by. */
export function signsSaid({ extremes, voltage, current, positive }: LogSample, words: DeskWords): string {
  if (!extremes || !voltage || !current) return '';
  const number = (value: number, unit: string | null) =>
    [value.toLocaleString(words.locale, { maximumSignificantDigits: 4 }), unit].filter(Boolean).join('\u00a0');
  const said = words.say('understood.signs', {
    name: String(current.name),
    high: number(extremes.highest.current, current.unit),
    highV: number(extremes.highest.voltage, voltage.unit),
    low: number(extremes.lowest.current, current.unit),
    lowV: number(extremes.lowest.voltage, voltage.unit),
  });
  return positive ? `${said} ${words.say(`understood.${positive.value}`)}` : said;
}

function seen(sample: LogSample, words: DeskWords): HTMLElement[] {
  const { time, voltage, current, temperature, channels, stepS, rowBytes } = sample;
  const row = (role: string, column: { name: string | number; unit?: string | null; reason: string } | null) =>
    column === null
      ? []
      : [
          el(
            'tr',
            {},
            el('th', { scope: 'row' }, words.say(`understood.${role}`)),
            el('td', {}, String(column.name)),
            el('td', {}, column.unit ?? ''),
            el('td', {}, words.message(column.reason)),
          ),
        ];
  const head = ['role', 'column', 'unit', 'why'].map((key) =>
    el('th', { scope: 'col' }, words.say(`understood.${key}`)),
  );
  const rows = [
    ...row('time', time),
    ...row('voltage', voltage),
    ...row('current', current),
    ...row('temperature', temperature),
    ...channels.flatMap((channel) => row('channel', channel)),
  ];
  const step = stepS === null ? null : `${stepS.toLocaleString(words.locale)}\u00a0s`;
  return [
    el(
      'div',
      { class: 'wide', tabindex: '0' },
      el('table', {}, el('thead', {}, el('tr', {}, ...head)), el('tbody', {}, ...rows)),
    ),
    ...(step === null ? [] : [el('p', {}, words.say('understood.step', { step, bytes: Math.round(rowBytes) }))]),
  ];
}
