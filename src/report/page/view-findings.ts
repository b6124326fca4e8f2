/** Findings and their figures as the templates take them: in which order, at what length, and what of it goes on paper. */
import { NOT_MEASURED, type Status } from '../../checks/check.ts';
import { checkOf } from '../../checks/registry.ts';
import type { Unit } from '../../measures/limit.ts';
import type { Report, ReportFinding } from '../contract/report.ts';
import { MODEL_PICTURE } from '../model/picture-name.ts';
import { byWeight, type Situation } from '../summary.ts';
import type { Format } from '../words/format.ts';
import { epoch, type PageChart, type PageWords, placeIn, placeOf } from './page-words.ts';

export interface Figure extends PageChart {
  readonly id: string;
  readonly number: number;
  /** What it shows, in a sentence without its full stop. */
  readonly conclusion: string;
  readonly span: string | null;
  readonly svg: string;
  /** Stands in the PDF too; the others are unfolded on screen. */
  readonly printed: boolean;
}

/** What the names of charts begin with that show one value beside its limit. */
const AXIS = 'limit-';
/** Evidence that spans more of it is the log itself. */
const MOST_OF_LOG = 0.95;
/** … and that show how the vehicle usually behaves. */
const OF_PORTRAIT = 'portrait-';
const STATUS_ORDER: readonly Status[] = ['fault', 'watch', 'undecided', 'clear'];

/**
 * Causes first, each followed by what follows from it; then what is undecided, then what is in order. Within a kind:
 * faults before what to watch, else the order of the report.
 */
export function rank(findings: readonly ReportFinding[]): ReportFinding[] {
  const byStatus = byWeight(findings).toSorted(
    (a, b) => STATUS_ORDER.indexOf(a.status) - STATUS_ORDER.indexOf(b.status),
  );
  const known = new Set(findings.map((finding) => finding.check));
  const heads = byStatus.filter(({ follows }) => follows === null || !known.has(follows));
  const ordered = new Set<ReportFinding>();
  const add = (finding: ReportFinding) => {
    if (ordered.has(finding)) return;
    ordered.add(finding);
    for (const other of byStatus) if (other.follows === finding.check) add(other);
  };
  for (const finding of [...heads, ...byStatus]) add(finding);
  return [...ordered];
}

/** Told in two lines: what is in order, and questions that the log leaves open beside the main ones. */
export function isBrief({ check, status }: Pick<ReportFinding, 'check' | 'status'>): boolean {
  return status === 'clear' || (status === 'undecided' && !checkOf(check)?.core);
}

/**
 * Each chart once, numbered: the session's own, then those of the findings as they stand on the page, those that only the
 * screen shows last. On paper stand those of findings told at length, and in a report without a fault also the evidence
 * that the vehicle sleeps.
 */
export function figuresOf(
  report: Report,
  drawn: readonly PageChart[],
  situation: Situation,
  { format }: PageWords,
  conclusions: ReadonlyMap<string, string> = new Map(),
): Figure[] {
  const charts = drawn.filter((chart) => !chart.name.startsWith(AXIS));
  const isOfPortrait = ({ name }: PageChart) => name.startsWith(OF_PORTRAIT);
  const leads = portraitLeads(report);
  const ranked = rank(report.findings);
  const findingOf = (chart: PageChart) => report.findings.find((finding) => finding.check === chart.check);
  const isPrinted = (chart: PageChart) => {
    const finding = findingOf(chart);
    if (isOfPortrait(chart)) return leads || chart.name === MODEL_PICTURE;
    return !finding || !isBrief(finding) || (situation !== 'fault' && checkOf(finding.check)?.core === true);
  };
  const concluded = charts.filter((chart) => isOfPortrait(chart) && conclusions.has(chart.name));
  const portrait = concluded.filter(({ name }) => name !== MODEL_PICTURE);
  const own = charts.filter((chart) => !findingOf(chart) && !isOfPortrait(chart));
  const ofOthers = ranked.flatMap(({ check }) => charts.filter((chart) => chart.check === check));
  const ordered = [
    ...(leads ? portrait : []),
    ...own,
    ...ofOthers.filter(isPrinted),
    ...concluded.filter(({ name }) => name === MODEL_PICTURE),
    ...ofOthers.filter((chart) => !isPrinted(chart)),
    ...(leads ? [] : portrait),
  ];
  return ordered.map((chart, index) => {
    const finding = findingOf(chart);
    const evidence = finding?.evidence.find((one) => one.chart === chart.name);
    const span = evidence ? `${format.dateTime(epoch(evidence.from))} – ${format.dateTime(epoch(evidence.to))}` : null;
    const conclusion = (conclusions.get(chart.name) ?? finding?.title ?? chart.title).replace(/\.$/, '');
    const place = { id: `figure-${chart.name}`, number: index + 1, svg: placeOf(chart.name) };
    return { ...chart, ...place, conclusion, span, printed: isPrinted(chart) };
  });
}

/** Of a vehicle that was logged to know it, what is normal comes first; of others it is there to look up. */
export const portraitLeads = ({ session }: Report): boolean => session.purpose === 'baseline';

/** The small picture of a check's value beside its limit. */
export function axisOf(check: string, charts: readonly PageChart[], prefix = ''): string | null {
  const name = `${AXIS}${check}`;
  return charts.some((chart) => chart.name === name) ? placeOf(name, prefix) : null;
}

/** Whether a chart stands on the page: a finding that is told in two lines has no axis. */
export function isShown({ name, check }: PageChart, findings: readonly Pick<ReportFinding, 'check' | 'status'>[]) {
  const finding = findings.find((one) => one.check === check);
  return !finding || !name.startsWith(AXIS) || !isBrief(finding);
}

export function findingView(
  finding: ReportFinding,
  report: Report,
  charts: readonly PageChart[],
  figures: readonly Figure[],
  words: PageWords,
) {
  const elsewhere = finding.evidence.flatMap((evidence) => figures.filter((figure) => figure.name === evidence.chart));
  const from = report.findings.find((other) => other.check === finding.follows);
  const own = figures.filter((figure) => figure.check === finding.check);
  const see = [...new Set(elsewhere)].filter((figure) => figure.check !== finding.check);
  return {
    ...finding,
    at: placeOfFinding(finding, report),
    /** It does not apply, or the log lacks what it is measured by. */
    notMeasured: finding.reason_key !== null && NOT_MEASURED.includes(finding.reason_key),
    ...valueAndLimit(finding, words),
    axis: isBrief(finding) ? null : axisOf(finding.check, charts),
    figures: own,
    see,
    followed: from ? { check: from.check, name: from.name } : null,
    warned: report.cautions.filter((caution) => finding.cautions.includes(caution.id)),
    steps: finding.next_steps,
    folded: finding.detail !== '' || own.some((figure) => !figure.printed) || see.length > 0,
  };
}

function measuredText(
  { value, unit, uncertainty }: NonNullable<ReportFinding['measured']>,
  asRange: boolean,
  format: Format,
) {
  if (asRange && uncertainty !== null) return format.dayRange(value - uncertainty, value + uncertainty);
  return format.quantity(value, unit as Unit, uncertainty);
}

/** The stretch of its evidence; null where that is the whole log. */
function placeOfFinding({ evidence: [first] }: ReportFinding, report: Report): string | null {
  if (!first) return null;
  const [seconds, whole] = [epoch(first.to) - epoch(first.from), epoch(report.log.end) - epoch(report.log.start)];
  return seconds < MOST_OF_LOG * whole ? placeIn(report)(first.from, seconds) : null;
}

function valueAndLimit({ check, measured, limit }: ReportFinding, { content, format }: PageWords) {
  const { asRange } = checkOf(check) ?? {};
  const value = measured ? measuredText(measured, asRange === true, format) : null;
  const limitText = limit ? format.limit(limit.value, limit.unit as Unit) : null;
  const { scale, side } = checkOf(check) ?? {};
  if (scale === 'chance') {
    const by = (text: string | null) => (text === null ? null : `${text} ${content.label('findings.by_chance')}`);
    return { value: by(value), limitText: by(limitText) };
  }
  const word = side && content.label(side === 'max' ? 'findings.at_most' : 'findings.at_least');
  return { value, limitText: limitText && word ? `${word}\u00a0${limitText}` : limitText };
}
