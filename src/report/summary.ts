/**
 * The customer's page: which findings lead, and what is said about them. General words are in `content/<language>/summary.md`, those
 * for one check in its own prose, `## first page: STATUS` and `## in a few words`.
 */
import { NOT_ASKED, type Status } from '../checks/check.ts';
import { checkOf } from '../checks/registry.ts';
import type { Report, ReportFinding } from './contract/report.ts';
import type { Content } from './words/content.ts';
import type { Format } from './words/format.ts';
import { part, readSections, render, type Section, toText } from './words/prose.ts';

const MOST = 3;
const ONE_DAY_S = 86_400;
/** The longest night that a vehicle stands through between two days of use. */
const ONE_NIGHT_S = 14 * 3600;
const RANK: Readonly<Record<Status, number>> = { fault: 0, watch: 1, undecided: 2, clear: 3 };

/**
 * What the first page has to say: a fault, something to watch; a recording that has a fault itself; all in order, or in order as far as
 * it was seen; or that nothing can be said.
 */
export type Situation = 'fault' | 'watch' | 'recording' | 'partly' | 'undecided' | 'clear';

/** The mark that stands beside it. */
export const MARK_OF: Readonly<Record<Situation, Status>> = {
  fault: 'fault',
  watch: 'watch',
  recording: 'watch',
  partly: 'undecided',
  undecided: 'undecided',
  clear: 'clear',
};

export type Ranked = Pick<ReportFinding, 'check' | 'status' | 'follows'> &
  Partial<Pick<ReportFinding, 'variant'>> & { readonly measured?: { readonly value: number } | null };

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
  const raised = vehicle.filter((finding) => finding.status === 'fault' || finding.status === 'watch');
  // No all-clear stands above a fault, whatever it is of.
  const ofLog = findings.filter((finding) => isOfLog(finding) && finding.status === 'fault');
  const situation = situationOf(vehicle, raised, ofLog);
  const named = new Map(raised.map((finding) => [finding.check, finding]));
  const follows = (finding: F) => finding.follows !== null && named.has(finding.follows);
  const ranked = byWeight(raised).toSorted(
    (a, b) =>
      Number(isDanger(b)) - Number(isDanger(a)) ||
      Number(follows(a)) - Number(follows(b)) ||
      RANK[a.status] - RANK[b.status],
  );
  if (situation === 'undecided') {
    const lacking = findings.filter(isOpenCore);
    // Where a fault of the log is why they have no answer, that is what there is to say.
    const reasons = lacking.map((finding) => findings.find((one) => isWhy(one, finding)) ?? finding);
    const shown = [...new Set([...ranked, ...ofLog, ...reasons])].slice(0, MOST);
    return { situation, findings: shown, causes: shown.filter((finding) => finding.status !== 'undecided') };
  }
  const all = situation === 'recording' ? [...ofLog, ...ranked] : [...ranked, ...ofLog];
  const shown = all.slice(0, MOST);
  return { situation, findings: shown, causes: shown.filter((finding) => !follows(finding)) };
}

/** In the order given, but for one that is told after another of its rank. */
export function byWeight<F extends Ranked>(findings: readonly F[]): F[] {
  const known = new Map(findings.map((finding) => [finding.check, finding]));
  const placeOf = (finding: F): number => {
    const before = known.get(checkOf(finding.check)?.after?.(known) ?? '');
    return before ? findings.indexOf(before) + 0.5 : findings.indexOf(finding);
  };
  return findings.toSorted((a, b) => placeOf(a) - placeOf(b));
}

function situationOf<F extends Ranked>(vehicle: readonly F[], raised: readonly F[], ofLog: readonly F[]): Situation {
  if (raised.some((finding) => finding.status === 'fault')) return 'fault';
  const core = vehicle.filter((finding) => checkOf(finding.check)?.core);
  const open = core.filter((finding) => finding.status === 'undecided');
  if (ofLog.length > 0) return open.length > 0 && open.length === core.length ? 'undecided' : 'recording';
  if (raised.some(isDanger)) return 'watch';
  const isSeen = vehicle.some(({ check, status }) => status === 'clear' && checkOf(check)?.named);
  if (open.length > 0) return open.length === core.length && !isSeen ? 'undecided' : 'partly';
  return raised.length > 0 ? 'watch' : 'clear';
}

const isOfLog = ({ check }: Ranked) => checkOf(check)?.about === 'log';

const isOpenCore = ({ check, status }: Ranked) => status === 'undecided' && checkOf(check)?.core === true;

const isWhy = (one: Ranked, finding: Ranked) => one.check === finding.follows && one.status === 'fault';

const isDanger = ({ check, status, variant }: Ranked) =>
  checkOf(check)?.danger?.({ status, variant: variant ?? undefined }) === true;

const isUnfit = ({ check, status, variant }: Ranked) =>
  checkOf(check)?.unfit?.({ status, variant: variant ?? undefined }) === true;

interface Told {
  /** False where nobody told of any trouble. */
  readonly concern?: boolean;
  /** A hybrid's or electric vehicle's 12 V battery is charged by a converter. */
  readonly hasAlternator?: boolean;
  /** The longest stand after which it started by itself, s. */
  readonly stoodS?: number;
}

/** What the first page says. Each list has at most three entries, and none twice. */
export function summarise(
  findings: readonly ReportFinding[],
  content: Content,
  format: Format,
  { concern = true, hasAlternator = true, stoodS = 0 }: Told = {},
): Report['summary'] {
  const { situation, findings: shown, causes } = headlines(findings);
  // One cause, one story: what follows from it is named in a few words.
  const follows = new Set(shown.filter((finding) => finding.status !== 'undecided' && !causes.includes(finding)));
  const prose = readSections('summary.md', content.text('summary.md'));
  const danger = causes.find(isDanger);
  const unfit = findings.find(isUnfit);
  // Where a fault of the log is why nothing, or nothing sure, can be said, it is said so in its words.
  const isByLog = situation === 'recording' || situation === 'undecided';
  const weight: Status = isByLog ? 'fault' : MARK_OF[situation];
  const lead = causes.filter((finding) => finding.status === weight || finding === danger);
  const facts = {
    seen: phrases(findings, 'clear', content),
    besides: phrases(
      findings.filter(({ check }) => !checkOf(check)?.core),
      'clear',
      content,
    ),
    unseen: phrases(findings.filter(isMeasured), 'undecided', content),
    concern,
    hasAlternator,
    replaced: findings.some(({ check, variant }) => check === 'supply-lost' && variant === 'replaced'),
    standsLong: findings.some(({ check, status }) => check === 'stand-time' && status === 'clear'),
    ...standAdvice(findings, stoodS),
  };
  const general = part(prose, situation);
  const own = lead.map((finding) => ownWords(content, finding));
  const lines = (section: Section | undefined, name: string) =>
    items(toText(render('summary.md', part(section, name)?.source ?? '', facts, format)));
  const say = (name: string): string[] => {
    // Where somebody may be hurt, nothing else stands beside what keeps them from it; and until it is repaired no other advice
    // beside that of a vehicle that nobody can count on.
    const first = danger ?? (name === 'until then' ? unfit : undefined);
    const from = first ? [ownWords(content, first)] : own;
    // What is said in general is not said beside what one finding says better.
    const better = from.flatMap((section) => (part(section, name) ? lines(section, name) : []));
    return once(better.length > 0 ? better : lines(general, name)).slice(0, MOST);
  };
  const open = findings.filter((finding) => finding.status === 'undecided' && !isOfLog(finding) && isMeasured(finding));
  const weighty = open.filter(isOpenCore);
  const n = open.length - weighty.length;
  const others =
    n > 0 ? items(toText(render('summary.md', part(part(prose, 'open'), 'not yet')?.source ?? '', { n }, format))) : [];
  const named =
    situation === 'undecided' || situation === 'partly' ? [] : weighty.map((finding) => sentence(finding.title));
  const notYet = [...say('not yet'), ...named, ...others];
  const besides = findings.filter(
    ({ check, status, variant }) =>
      // What is in order is told where the customer asks for it and nothing else explains the trouble.
      (status === 'watch' || (status === 'clear' && concern && (situation === 'clear' || situation === 'partly'))) &&
      checkOf(check)?.tellsCustomer?.({ status, variant: variant ?? undefined }),
  );
  const found =
    shown.length > 0
      ? shown.map((finding) => {
          // Beside what may hurt somebody the others give no advice of their own.
          if (danger && finding !== danger) return inBrief(finding, content) ?? sentence(finding.title);
          return follows.has(finding) ? (inBrief(finding, content) ?? finding.plain) : finding.plain;
        })
      : [...say('found'), ...whyOpen(findings)];
  return {
    answer: say('answer')[0] ?? '',
    found: [...found.slice(0, MOST - besides.length), ...besides.map(({ plain }) => plain)],
    means: say('means'),
    suggest: say('suggest'),
    until_then: say('until then'),
    not_yet: once(notYet).slice(0, MOST),
  };
}

/** What of the log leaves questions open, though it is no fault of it, is why there is no all-clear. */
function whyOpen(findings: readonly ReportFinding[]): string[] {
  const doubted = new Set(findings.flatMap((one) => (one.reason_key === 'in-doubt' && one.follows) || []));
  return findings.filter((one) => doubted.has(one.check) && isOfLog(one)).map(({ plain }) => plain);
}

/**
 * It may not start after a day, or sooner: then "for days" is no advice. A single night is one only where most of the range is short, or
 * where it stays awake at times, and where it did not stand through one and start; else it is a few days. From a day on the number is told that the finding begins with.
 */
function standAdvice(findings: readonly ReportFinding[], stoodS: number) {
  const stand = findings.find(({ check }) => check === 'stand-time');
  const isAwake = stand?.reason_key === 'sometimes-awake';
  const isOpen = stand?.status === 'undecided' && stand.reason_key === 'limit-within-uncertainty';
  if (!stand?.measured || (stand.status !== 'fault' && !isAwake && !isOpen))
    return { oneNight: false, fewDays: false, standS: null };
  const { value, uncertainty } = stand.measured;
  const lowS = value - (uncertainty ?? 0);
  const standS = lowS < ONE_DAY_S ? null : Math.floor(lowS / ONE_DAY_S) * ONE_DAY_S;
  if (isOpen) return { oneNight: false, fewDays: false, standS };
  const isSoon = lowS < ONE_DAY_S;
  const oneNight = lowS < ONE_NIGHT_S && stoodS < ONE_NIGHT_S && (isAwake || value < 2 * ONE_DAY_S);
  return { oneNight, fewDays: isSoon && !oneNight, standS };
}

/** What does not apply, or nobody fitted a channel for, is no question that was left open. */
const isMeasured = ({ reason_key }: ReportFinding) => reason_key === null || !NOT_ASKED.includes(reason_key);

function ownWords(content: Content, { status, check, variant }: ReportFinding): Section | undefined {
  const prose = proseOf(content, check);
  return part(prose, `first page: ${status}: ${variant}`) ?? part(prose, `first page: ${status}`);
}

function proseOf(content: Content, check: string): Section {
  const file = `checks/${check}.md`;
  return readSections(file, content.text(file));
}

/** From `## in a few words`; empty where the check has none. */
function inFewWords(content: Content, check: string, name: string): string {
  return toText(part(part(proseOf(content, check), 'in a few words'), name)?.source ?? '');
}

/** What was seen to be in order, or not seen, in a few words each: "how it falls asleep, charging and starting". */
function phrases(findings: readonly ReportFinding[], status: Status, content: Content): string {
  const named = findings.flatMap((finding) =>
    finding.status === status ? inFewWords(content, finding.check, 'question') || [] : [],
  );
  return new Intl.ListFormat(content.locale, { type: 'conjunction' }).format(named);
}

/** What follows from a cause, in a few plain words; null where there are none, and where a doubt needs more than a few. */
function inBrief({ check, status, variant }: ReportFinding, content: Content): string | null {
  const plain = status === 'fault' ? 'follows' : 'follows: watch';
  return (variant && inFewWords(content, check, `follows: ${variant}`)) || inFewWords(content, check, plain) || null;
}

function sentence(text: string): string {
  return /[.!?]$/.test(text) ? text : `${text}.`;
}

/** What begins with the same sentence says the same, for another reason: the first reason is enough. */
function once(texts: readonly string[]): string[] {
  const beginning = (text: string) => text.split(/(?<=[.!?])\s/, 1)[0];
  return texts.filter((text, k) => texts.findIndex((other) => beginning(other) === beginning(text)) === k);
}

/** Paragraphs and list items of a plain text, one entry each. */
function items(text: string): string[] {
  return text
    .split(/\n+/)
    .map((line) => line.replace(/^- /, '').trim())
    .filter(Boolean);
}
