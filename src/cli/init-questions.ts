/** The questions of `standstill init`. An empty answer takes what is proposed, or leaves the line for later. */
import type { Draft, Given } from '../manifest/draft.ts';
import { DRAFT_FIELDS, type DraftField, type DraftPath, fieldFault, pathOf } from '../manifest/draft-fields.ts';
import type { Terminal } from './terminal.ts';

export type Known = Draft['values'];

/** What was proposed and what was answered; null where the person ended the input. Flags are not asked again. */
export async function askFields(proposed: Known, hasCurrent: boolean, terminal: Terminal): Promise<Known | null> {
  const known: Record<DraftPath, Given> = { ...proposed };
  terminal.err('Enter leaves a line for later, or takes what stands in [ ].\n');
  for (const field of DRAFT_FIELDS) {
    const path = pathOf(field);
    const proposal = proposed[path];
    if (field.section === 'current' && !hasCurrent) continue;
    // What came from a flag has no reason beside it.
    if (!field.question || (proposal && proposal.reason === undefined)) continue;
    const answer = await askOne(field, proposal?.value, terminal);
    if (answer === null) return null;
    if (answer !== '') known[path] = { value: answer };
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
