/**
 * `limits: {from: ID}`, or `{from: [ID, ID]}`: the values of healthy sessions of the same model become limits; of several the widest.
 *
 * One session tells what one vehicle did in one week, and nothing of how far healthy vehicles of a model lie apart: its
 * own uncertainty is that of the measurement alone. So a limit is the value, its expanded uncertainty, and a margin for
 * the next vehicle, which is common practice, no source. It is never wider than the limit that the baseline was itself
 * found sound by, and a value near nought leaves the margin's least. A baseline judged by its own limits stays clear.
 *
 * What is no property of the model becomes no limit: charge at rest and standing time (how it was used), charging voltage
 * (published windows by temperature), resistance (the battery's own rating), wakes a day (they are judged by what they cost,
 * which is in the mean draw).
 */
import { type Problem, UserError } from '../base/problem.ts';
import { there } from '../base/there.ts';
import { zoneOf } from '../base/zone.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import { crankingMinimumV } from '../battery/cranking.ts';
import type { Check, Given } from '../checks/check.ts';
import { CHECKS } from '../checks/registry.ts';
import { MANIFEST } from '../manifest/read-session.ts';
import type { LimitKey, LimitSetting, LimitsFrom, Session } from '../manifest/session.ts';
import type { Content } from '../report/words/content.ts';
import { makeFormat } from '../report/words/format.ts';
import { part, readSections, render, toText } from '../report/words/prose.ts';
import { reading } from './measures.ts';
import type { Read, StoredReport } from './stored-report.ts';

const FILE = 'baseline.md';

/** A session is refused because of the session that it takes its limits from: another report of that one may mend it. */
export class BaselineError extends UserError {
  readonly baselineId: string;

  constructor(problem: Problem, baselineId: string) {
    super([problem]);
    this.baselineId = baselineId;
  }
}

/** Where a baseline is looked for. */
export interface ArchiveOf {
  /** For messages. */
  readonly name: string;
  /** Null where there is no such session. */
  read(id: string): Promise<Read | null>;
}

interface Taken {
  readonly value: number;
  /** Expanded, k = 2. */
  readonly U: number;
  readonly limit: number;
  /** True where the baseline's own limit is the narrower one. */
  readonly own: boolean;
  readonly fallsWithCold?: boolean;
}

/** Beyond value and uncertainty: half as much again, and at least the margin that the check names. Common practice, no source. */
const SHARE = 0.5;

interface Giving {
  readonly check: string;
  readonly gives: Given;
}

/** Limits that checks say a healthy session gives, each with all checks that it judges: they must be clear. */
const GIVEN: ReadonlyMap<LimitKey, readonly Giving[]> = givenBy(CHECKS);

function givenBy(checks: readonly Check[]) {
  const all = checks.flatMap(({ id, gives }): Giving[] => (gives ? [{ check: id, gives }] : []));
  return new Map(all.map(({ gives: { key } }) => [key, all.filter(({ gives }) => gives.key === key)]));
}

/**
 * The session with the limits that its baseline gives, each with its source in the words of `content`. Throws a `BaselineError`
 * with the place in the manifest where the baseline is not in the archive, does not fit or is not healthy.
 */
export async function withBaseline(session: Session, archive: ArchiveOf, content: () => Content): Promise<Session> {
  const { limitsFrom } = session;
  if (!limitsFrom) return session;
  const reports: StoredReport[] = [];
  for (const id of new Set([limitsFrom.id, ...(limitsFrom.more ?? [])]))
    reports.push(await soundBaseline(session, { id, at: limitsFrom.at }, archive));
  return { ...session, ...limitsOf(session, limitsFrom, reports, content()) };
}

function limitsOf(
  session: Session,
  limitsFrom: LimitsFrom,
  reports: readonly StoredReport[],
  content: Content,
): Pick<Session, 'limits' | 'limitsFrom'> {
  const limits: { [key in LimitKey]?: LimitSetting } = { ...session.limits };
  const left: { [key in LimitKey]?: string } = {};
  const prose = readSections(FILE, content.text(FILE));
  const format = makeFormat(content.locale, zoneOf(session.timezone), content.label('unknown'));
  const say = (section: string, name: string, facts: object) =>
    toText(render(FILE, part(part(prose, section), name)?.source ?? '', { ...facts }, format));
  // Whose vehicle it was stays out of a report that says of none whose it is.
  const idOf = (report: StoredReport) => (session.redacted ? null : report.session.id);
  for (const [key, givings] of GIVEN) {
    if (session.limits[key]) continue;
    const openOf = (report: StoredReport) =>
      givings.map(({ check }) => finding(report, check)).find((one) => one?.status !== 'clear');
    const given = reports.flatMap((report) => {
      const taken = openOf(report) ? null : take(report, givings);
      return taken ? [{ report, taken }] : [];
    });
    // Of several the widest: each of them was found sound.
    const widest = given.toSorted((a, b) => widthOf(b.taken) - widthOf(a.taken))[0];
    if (widest) {
      const { value, U, limit, own, fallsWithCold } = widest.taken;
      const several = given.length > 1 ? given.length : null;
      limits[key] = {
        value: limit,
        source: say('limit', own ? `${key}: own` : key, { id: idOf(widest.report), value, U, several }),
        fallsWithCold,
      };
    } else {
      const [first] = reports;
      const open = first && openOf(first);
      left[key] = say('left', open ? 'open' : 'none', { id: first ? idOf(first) : null, title: open?.title ?? '' });
    }
  }
  return { limits, limitsFrom: { ...limitsFrom, left } };
}

/** The higher a limit that must not be passed, and the lower one that must be reached, the wider. */
const widthOf = ({ limit, fallsWithCold }: Taken) => (fallsWithCold ? -limit : limit);

async function soundBaseline(
  session: Session,
  { id, at }: LimitsFrom,
  { name, read: readReport }: ArchiveOf,
): Promise<StoredReport> {
  const refuse = (message: string): never => {
    throw new BaselineError({ file: MANIFEST, ...at, path: 'limits.from', message }, id);
  };
  const read = await readReport(id);
  if (read === null)
    return refuse(
      `There is no session "${id}" in ${name}. Expected: the id of a healthy session; build that one first.`,
    );
  if ('message' in read) return refuse(`The report of session "${id}" cannot be used: ${read.message}`);
  const { vehicle, limits_from } = read.report.session;
  if (limits_from)
    refuse(`"${id}" takes its own limits from another session. Expected: one that was judged by itself.`);
  if (vehicle.system_voltage_v !== session.vehicle.systemV || vehicle.powertrain !== session.vehicle.powertrain)
    refuse(
      `"${id}" is of another kind of vehicle (${vehicle.powertrain}, ${vehicle.system_voltage_v} V). Expected: a healthy session of the same model.`,
    );
  const ill = read.report.findings.filter(({ status }) => status === 'fault');
  if (ill.length > 0)
    refuse(
      `"${id}" is no healthy session: ${ill.map(({ check, title }) => `${check}: ${title}`).join('; ')}. Expected: one without a fault.`,
    );
  return read.report;
}

const finding = (report: StoredReport, check: string) => report.findings.find((one) => one.check === check);

/** Null where the report has no value, or no limit, to take one from. */
function take(report: StoredReport, givings: readonly Giving[]): Taken | null {
  const judged = finding(report, there(givings[0]).check);
  const known = givings.flatMap(({ check, gives }) => {
    const { value, uncertainty } = (gives.from ? reading(gives.from, report) : finding(report, check)?.measured) ?? {};
    return value == null || uncertainty == null ? [] : [{ value, U: uncertainty, gives }];
  });
  // One limit may judge several values: it is taken from that whose upper end is the highest.
  const highest = known.sort((a, b) => b.value + b.U - (a.value + a.U))[0];
  if (!highest || !judged?.limit) return null;
  return highest.gives.fallsWithCold
    ? aboveTable(report, highest, judged.limit.value)
    : atMost(highest, judged.limit.value);
}

interface Known {
  readonly value: number;
  readonly U: number;
  readonly gives: Given;
}

function atMost({ value, U, gives }: Known, judgedBy: number): Taken {
  // Three digits; more would feign a knowledge that one session does not give.
  const wide = Number((Math.max(0, value) + U + Math.max(SHARE * value, gives.margin)).toPrecision(3));
  return { value, U, limit: Math.min(wide, judgedBy), own: judgedBy <= wide };
}

/** As far above the load-test minimum as the baseline's worst crank, less the margin, at every temperature. */
function aboveTable(report: StoredReport, { value, U, gives }: Known, judgedBy: number): Taken | null {
  // A limit of one figure does not say how far above the table the crank was.
  if (report.session.limits.some(({ key }) => key === gives.key)) return null;
  const systemV = report.session.vehicle.system_voltage_v;
  const aboveV = value - U - gives.margin * perTwelveVolt(systemV) - judgedBy;
  if (aboveV <= 0) return null;
  const limit = Number((crankingMinimumV(systemV, null) + aboveV).toFixed(2));
  return { value, U, limit, own: false, fallsWithCold: true };
}
