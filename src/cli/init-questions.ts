/** The questions of `standstill init`. An empty answer takes what is proposed, or leaves the line for later; `<` goes back. */
import { parse } from 'yaml';
import { plainText } from '../base/shown.ts';
import { there } from '../base/there.ts';
import type { LogSample } from '../log/sample/sample.ts';
import type { Draft, Given } from '../manifest/draft.ts';
import { DRAFT_FIELDS, type DraftField, type DraftPath, fieldFault, pathOf } from '../manifest/draft-fields.ts';
import { understoodAnswer } from '../manifest/understood-answer.ts';
import { type Content, flatten } from '../report/words/content.ts';
import type { Terminal } from './terminal.ts';

export type Known = Draft['values'];

/** What the fitting sheet has a box for and no verdict hangs on, as it comes to hand: from the desk first, from the vehicle last. */
const LEFT_TO_SHEET: readonly DraftPath[] = [
  'vehicle.registration',
  'session.repair_order',
  'session.technician',
  'vehicle.odometer',
];
const BACK = '<';

/**
 * What was proposed and what was answered; null where the person ended the input. Flags are not asked again. What may be
 * left to the fitting sheet comes last, and the first empty answer ends it.
 */
export async function askFields(
  proposed: Known,
  sample: LogSample | undefined,
  content: Content,
  terminal: Terminal,
): Promise<Known | null> {
  const words = flatten(parse(content.text('interview.yaml')));
  const say = (key: string) => words.get(key) ?? key;
  const known: Record<DraftPath, Given> = { ...proposed };
  const open = DRAFT_FIELDS.filter((field) => {
    const proposal = proposed[pathOf(field)];
    // What came from a flag has no reason beside it.
    const given = proposal !== undefined && proposal.reason === undefined;
    return field.question !== undefined && !given && (field.section !== 'current' || sample?.current);
  });
  const first = open.filter((one) => !LEFT_TO_SHEET.includes(pathOf(one)));
  const last = LEFT_TO_SHEET.flatMap((path) => open.filter((field) => pathOf(field) === path));
  const fields = [...first, ...last];

  if (sample !== undefined) terminal.err(`${columnsSaid(sample, say)}\n`);
  terminal.err(`${say('hint')}\n`);
  for (let at = 0; at < fields.length; at++) {
    const field = there(fields[at]);
    const path = pathOf(field);
    if (at === first.length) terminal.err(`${say('rest')}\n`);
    if (path === 'current.positive' && sample) terminal.err(signsSaid(sample, say));
    const answer = await askOne(field, known[path]?.value, say, terminal);
    if (answer === null) return null;
    if (answer === BACK) {
      if (at === 0) terminal.err(`  ${say('nothing_before')}\n`);
      at = Math.max(-1, at - 2);
    } else if (answer !== '') known[path] = { value: answer };
    else if (at >= first.length && known[path] === undefined) break;
  }
  return known;
}

type Say = (key: string) => string;

async function askOne(
  field: DraftField,
  proposal: string | undefined,
  say: Say,
  terminal: Terminal,
): Promise<string | null> {
  const path = pathOf(field);
  const asked = `${say(`${path}.question`)} (${say(`${path}.taken`)})${proposal ? ` [${proposal}]` : ''}: `;
  for (;;) {
    const typed = await terminal.ask?.(asked);
    if (typed === null || typed === undefined) return null;
    const answer = typed.trim();
    if (answer === '' || answer === BACK) return answer;
    const understood = understoodAnswer(field, answer);
    const fault = fieldFault(field, understood);
    if (fault === undefined) {
      if (understood !== answer) terminal.err(`  ${understood}\n`);
      return understood;
    }
    terminal.err(`  ${fault}\n`);
  }
}

function columnsSaid({ time, voltage, current, temperature, channels }: LogSample, say: Say): string {
  const name = (column: string | number) => (typeof column === 'number' ? `#${column}` : `"${plainText(column)}"`);
  const unit = (column: { unit: string | null }) => column.unit ?? say('unit_open');
  const said = [
    `${say('role.time')}: ${time ? name(time.name) : say('none')}${time?.how ? ` (${time.how})` : ''}`,
    ...Object.entries({ voltage, current, temperature }).map(
      ([role, column]) => `${say(`role.${role}`)}: ${column ? `${name(column.name)}, ${unit(column)}` : say('none')}`,
    ),
    ...(channels.length > 0 ? [`${say('role.circuits')}: ${channels.map((one) => name(one.name)).join(', ')}`] : []),
  ];
  return [say('columns'), ...said.map((line) => `  ${line}`)].join('\n');
}

function signsSaid({ extremes, voltage, current }: LogSample, say: Say): string {
  if (extremes === null || voltage === null || current === null) return '';
  const number = (value: number, unit: string | null) =>
    [Number(value.toPrecision(4)), unit].filter((one) => one !== null).join(' ');
  const facts: Record<string, string> = {
    name: plainText(String(current.name)),
    high: number(extremes.highest.current, current.unit),
    low: number(extremes.lowest.current, current.unit),
    highV: number(extremes.highest.voltage, voltage.unit),
    lowV: number(extremes.lowest.voltage, voltage.unit),
  };
  return `  ${say('signs').replace(/\{(\w+)\}/g, (_, key: string) => facts[key] ?? '')}\n`;
}
