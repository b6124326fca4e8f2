/** Words for a finding: chooses the prose by status and variant, renders it with the answer's facts, as plain text. */

import { UserError } from '../../base/problem.ts';
import { type Finding, NOT_ASKED } from '../../checks/check.ts';
import type { Stage } from '../contract/report.ts';
import type { Content } from './content.ts';
import { type Format, spoken } from './format.ts';
import { type FactValue, part, readSections, readSteps, render, type Section, toText } from './prose.ts';

export interface Wording {
  readonly name: string;
  readonly question: string;
  readonly title: string;
  readonly plain: string;
  readonly detail: string;
  readonly reason: string | null;
  readonly steps: readonly { readonly stage: Stage; readonly text: string }[];
}

/** What prose may use: the facts, whether it follows from another finding, and `value`, `U`, `limit` (numbers, SI) and `limitSource`; null where there is none. */
export function factsOf(finding: Finding, content: Pick<Content, 'phrase'>): Record<string, FactValue> {
  return {
    ...finding.facts,
    follows: finding.follows !== undefined,
    value: finding.measured?.value ?? null,
    U: finding.measured?.uncertainty ?? null,
    limit: finding.limit?.value ?? null,
    limitSource: finding.limit ? content.phrase('source', finding.limit.source) : null,
  };
}

/**
 * Throws a `UserError` that names the file where prose is missing or asks for a value that the answer does not give.
 * An undecided answer may lack any value (that may be why it is undecided), so its parts give way to the reason instead.
 */
export function wordFinding(finding: Finding, content: Content, format: Format): Wording {
  const file = `checks/${finding.check}.md`;
  const prose = readSections(file, content.text(file));
  const facts = factsOf(finding, content);
  const reason = finding.reason ? reasonText(finding.reason, { prose, file, facts }, content, format) : null;
  // Nothing is lacking that anybody asked for.
  const notFitted = finding.reason !== undefined && NOT_ASKED.includes(finding.reason);
  // What an open question needs goes by why it is open.
  const kind = finding.variant ?? finding.reason;
  const sections = [part(prose, `${finding.status}: ${kind}`), part(prose, finding.status)];
  const words = (name: string, fallback?: string): string => {
    const section = sections.map((one) => part(one, name)).find((one) => one !== undefined);
    try {
      // A title is said aloud: its figures are rounded to their uncertainty, which stands in the detail.
      if (section) return render(file, section.source, facts, name === 'title' ? spoken(format) : format);
    } catch (error) {
      if (finding.status !== 'undecided' || !(error instanceof UserError)) throw error;
    }
    if (finding.status === 'undecided') return fallback ?? reason ?? '';
    if (fallback !== undefined) return fallback;
    throw new UserError([{ file, message: `"## ${finding.status}" lacks its "### ${name}".` }]);
  };
  return {
    name: prose.name,
    question: toText(prose.source),
    title: notFitted
      ? content.label('finding.not_measured')
      : toText(words('title', finding.status === 'undecided' ? content.label('finding.undecided') : undefined)),
    plain: notFitted ? (reason ?? '') : toText(words('plain')),
    detail: toText(words('detail', '')),
    reason,
    // What another finding puts in doubt is settled by that one's steps.
    steps: notFitted || finding.reason === 'in-doubt' ? [] : readSteps(file, words('next steps', '')),
  };
}

interface CheckProse {
  readonly file: string;
  readonly prose: Section;
  readonly facts: Readonly<Record<string, FactValue>>;
}

/** A reason's words: the check's own, else the shared ones in `reasons.md`. */
function reasonText(key: string, { prose, file, facts }: CheckProse, content: Content, format: Format): string {
  const own = part(part(prose, 'reasons'), key);
  const shared = own ? undefined : part(readSections('reasons.md', content.text('reasons.md')), key);
  const section = own ?? shared;
  if (!section)
    throw new UserError([{ file, message: `neither "## reasons" here nor reasons.md has the reason "${key}".` }]);
  return toText(render(own ? file : 'reasons.md', section.source, facts, format));
}
