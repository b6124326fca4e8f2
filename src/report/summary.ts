/** The customer's page: which findings lead, and what is said about them. Its words are `content/<language>/summary.md`. */
import type { Status } from '../checks/check.ts';
import { checkOf } from '../checks/registry.ts';
import type { Report, ReportFinding } from './contract/report.ts';
import type { Content } from './words/content.ts';
import type { Format } from './words/format.ts';
import { part, readSections, render, type Section, toText } from './words/prose.ts';

const MOST = 3;
const RANK: Readonly<Record<Status, number>> = { fault: 0, watch: 1, undecided: 2, clear: 3 };

export type Situation = 'fault' | 'watch' | 'undecided' | 'clear';

export type Ranked = Pick<ReportFinding, 'check' | 'status' | 'follows'>;

export interface Headlines<F extends Ranked> {
  readonly situation: Situation;
  /** Findings that the first page names, at most three: causes first, then what follows from them. */
  readonly findings: readonly F[];
  /** Those of them that are causes of their own: what is said and suggested is said of these. */
  readonly causes: readonly F[];
}

/** @param findings in report order, which breaks ties. */
export function headlines<F extends Ranked>(findings: readonly F[]): Headlines<F> {
  const vehicle = findings.filter((finding) => !isOfLog(finding));
  const told = vehicle.filter((finding) => finding.status === 'fault' || finding.status === 'watch');
  const unanswered = vehicle.some(isOpenCore);
  const situation: Situation = told.some((finding) => finding.status === 'fault')
    ? 'fault'
    : unanswered
      ? 'undecided'
      : told.length > 0
        ? 'watch'
        : 'clear';
  const named = new Map(told.map((finding) => [finding.check, finding]));
  const follows = (finding: F) => finding.follows !== null && named.has(finding.follows);
  const ranked = told.toSorted((a, b) => Number(follows(a)) - Number(follows(b)) || RANK[a.status] - RANK[b.status]);
  if (situation === 'undecided') {
    const lacking = findings.filter(isOpenCore);
    // Where a fault of the log is why they have no answer, that is what there is to say.
    const reasons = lacking.map((finding) => findings.find((one) => isWhy(one, finding)) ?? finding);
    const shown = [...new Set([...ranked, ...reasons])].slice(0, MOST);
    return { situation, findings: shown, causes: shown.filter((finding) => finding.status !== 'undecided') };
  }
  const shown = ranked.slice(0, MOST);
  return { situation, findings: shown, causes: shown.filter((finding) => !follows(finding)) };
}

const isOfLog = ({ check }: Ranked) => checkOf(check)?.about === 'log';

const isOpenCore = ({ check, status }: Ranked) => status === 'undecided' && checkOf(check)?.core === true;

const isWhy = (one: Ranked, finding: Ranked) => one.check === finding.follows && one.status === 'fault';

/** What the first page says. Each list has at most three entries, and none twice. */
export function summarise(findings: readonly ReportFinding[], content: Content, format: Format): Report['summary'] {
  const { situation, findings: shown, causes } = headlines(findings);
  // One cause, one story: what follows from it is named in a few words.
  const follows = new Set(shown.filter((finding) => finding.status !== 'undecided' && !causes.includes(finding)));
  const prose = readSections('summary.md', content.text('summary.md'));
  const lead = causes.filter((finding) => finding.status === situation);
  const general = part(prose, situation);
  const own = lead.map((finding) => part(prose, `${finding.status}: ${finding.check}`));
  const say = (name: string): string[] => {
    const lines = own.flatMap((section) => items(toText((part(section, name) ?? part(general, name))?.source ?? '')));
    return [...new Set(lines.length > 0 ? lines : items(toText(part(general, name)?.source ?? '')))].slice(0, MOST);
  };
  const open = findings.filter((finding) => finding.status === 'undecided' && !isOfLog(finding));
  const weighty = open.filter(isOpenCore);
  const n = open.length - weighty.length;
  const others =
    n > 0 ? items(toText(render('summary.md', part(part(prose, 'open'), 'not yet')?.source ?? '', { n }, format))) : [];
  const named = situation === 'undecided' ? [] : weighty.map((finding) => sentence(finding.title));
  const notYet = [...say('not yet'), ...named, ...others];
  return {
    answer: say('answer')[0] ?? '',
    found:
      shown.length > 0
        ? shown.map((finding) => (follows.has(finding) ? (inBrief(finding, prose) ?? finding.plain) : finding.plain))
        : say('found'),
    means: say('means'),
    suggest: say('suggest'),
    until_then: say('until then'),
    not_yet: [...new Set(notYet)].slice(0, MOST),
  };
}

/** What follows from a cause, in a few plain words; null where there are none, and where a doubt needs more than a few. */
function inBrief({ check, status }: ReportFinding, prose: Section): string | null {
  return status === 'fault' ? toText(part(part(prose, 'also'), check)?.source ?? '') || null : null;
}

function sentence(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** Paragraphs and list items of a plain text, one entry each. */
function items(text: string): string[] {
  return text
    .split(/\n+/)
    .map((line) => line.replace(/^- /, '').trim())
    .filter(Boolean);
}
