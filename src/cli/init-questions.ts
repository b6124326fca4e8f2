/** The questions of `standstill init`. An empty answer takes what is proposed, or leaves the line for later. */
import type { Draft, Given } from '../manifest/draft.ts';
import { DRAFT_FIELDS, type DraftField, type DraftPath, fieldFault, pathOf } from '../manifest/draft-fields.ts';
import type { Terminal } from './terminal.ts';

export type Known = Draft['values'];

/** What the fitting sheet has a box for and no verdict hangs on, as it comes to hand: from the desk first, from the vehicle last. */
const LEFT_TO_SHEET: readonly DraftPath[] = [
  'vehicle.registration',
  'session.repair_order',
  'session.technician',
  'vehicle.odometer',
];

/**
 * What was proposed and what was answered; null where the person ended the input. Flags are not asked again. What may be
 * left to the fitting sheet comes last, and the first empty answer ends it.
 */
export async function askFields(proposed: Known, hasCurrent: boolean, terminal: Terminal): Promise<Known | null> {
  const known: Record<DraftPath, Given> = { ...proposed };
  const open = DRAFT_FIELDS.filter((field) => {
    const proposal = proposed[pathOf(field)];
    // What came from a flag has no reason beside it.
    const given = proposal !== undefined && proposal.reason === undefined;
    return field.question !== undefined && !given && (field.section !== 'current' || hasCurrent);
  });
  terminal.err('Enter leaves a line for later, or takes what stands in [ ].\n');
  for (const field of open.filter((one) => !LEFT_TO_SHEET.includes(pathOf(one)))) {
    const answer = await askOne(field, proposed[pathOf(field)]?.value, terminal);
    if (answer === null) return null;
    if (answer !== '') known[pathOf(field)] = { value: answer };
  }
  const last = LEFT_TO_SHEET.flatMap((path) => open.filter((field) => pathOf(field) === path));
  if (last.length > 0) terminal.err('The rest may be left to the fitting sheet: Enter skips all of it.\n');
  for (const field of last) {
    const answer = await askOne(field, undefined, terminal);
    if (answer === null) return null;
    if (answer === '') break;
    known[pathOf(field)] = { value: answer };
  }
  return known;
}

async function askOne(field: DraftField, proposal: string | undefined, terminal: Terminal): Promise<string | null> {
  for (;;) {
    const typed = await terminal.ask?.(`${field.question} (${field.taken})${proposal ? ` [${proposal}]` : ''}: `);
    if (typed === null || typed === undefined) return null;
    const answer = typed.trim();
    const fault = answer === '' ? undefined : fieldFault(field, answer);
    if (fault === undefined) return answer;
    terminal.err(`  ${fault}\n`);
  }
}
