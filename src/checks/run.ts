/** Asks every check and contains what goes wrong in one: the others still answer. */
import type { Analysis } from '../analysis/model.ts';
import type { Session } from '../manifest/session.ts';
import { SURE, surenessOf } from '../measures/sureness.ts';
import type { Answer, Check, Finding } from './check.ts';
import { withCauses } from './follows.ts';
import { CHECKS } from './registry.ts';
import { withDoubts } from './trust.ts';

/** Every check's finding, in the order given. A check without its column, or that throws, is `undecided`. */
export function runChecks(analysis: Analysis, session: Session, checks: readonly Check[] = CHECKS): Finding[] {
  const found = checks.map((check) => find(check, analysis, session));
  return withCauses(withDoubts(found, checks), checks);
}

function find(check: Check, analysis: Analysis, session: Session): Finding {
  return { ...ask(check, analysis, session), check: check.id, cautions: cautionsFor(check, session) };
}

function ask(check: Check, analysis: Analysis, session: Session): Answer {
  const missing = check.needs.find((need) => !has(analysis, need));
  // What nobody fitted was not measured: that is no question left open.
  if (missing === 'channels' && session.log.channels.length === 0) return { status: 'undecided', reason: 'not-fitted' };
  if (missing) return { status: 'undecided', reason: `no-${missing}` };
  try {
    return asSureAs(check, analysis, check.answer(analysis, session));
  } catch (error) {
    const cause = error instanceof Error ? error.message : String(error);
    return { status: 'undecided', reason: 'check-failed', facts: { cause } };
  }
}

function asSureAs({ restsOn = [] }: Check, analysis: Analysis, answer: Answer): Answer {
  const isVerdict = answer.status === 'fault' || answer.status === 'clear';
  if (!isVerdict || surenessOf(analysis, restsOn) >= SURE) return answer;
  const { variant: _, ...rest } = answer;
  return { ...rest, status: 'undecided', reason: 'unsure-states' };
}

function has(analysis: Analysis, need: Check['needs'][number]): boolean {
  return need === 'channels' ? analysis.has.channels.includes(true) : analysis.has[need];
}

/** Beside a traction battery every step on the vehicle carries the caution about high voltage. */
function cautionsFor(check: Check, session: Session): readonly string[] {
  const traction = session.vehicle.powertrain !== 'combustion' && check.cautions.length > 0;
  return traction ? [...check.cautions, 'high-voltage'] : check.cautions;
}
