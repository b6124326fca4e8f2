/**
 * The portrait in words: for each part what a customer reads, what the technician reads, and the conclusion of its picture. Prose is
 * `portrait.md`, facts are those of the report.
 */
import { zoneOf } from '../../base/zone.ts';
import type { Report } from '../contract/report.ts';
import { chanceText, figureName, figureText } from '../model/model-words.ts';
import { MODEL_PICTURE } from '../model/picture-name.ts';
import type { Content } from '../words/content.ts';
import { type Format, makeFormat, spoken } from '../words/format.ts';
import { type FactValue, part, readSections, render, type Section, toText } from '../words/prose.ts';
import { epoch } from './page-words.ts';

const FILE = 'portrait.md';
type Facts = Readonly<Record<string, FactValue>>;
type Portrait = NonNullable<Report['portrait']>;

export interface PortraitPart {
  readonly id: string;
  readonly heading: string;
  readonly plain: string;
  readonly detail: string;
  /** Name of its picture, and what that shows; null where it has none. */
  readonly chart: string | null;
  readonly conclusion: string;
  readonly items: readonly string[];
}

/** Name of the part, which section says it, and its picture. */
interface PartFacts {
  readonly id: string;
  readonly section?: string;
  readonly chart?: string;
  readonly facts: Facts;
  readonly items?: readonly { readonly name: string; readonly facts: Facts }[];
}

export const formatOf = ({ session }: Report, content: Content): Format =>
  makeFormat(content.locale, zoneOf(session.timezone), content.label('unknown'));

/** Title and first words of the portrait; null where the report has none. */
export function portraitIntro(content: Content): { readonly heading: string; readonly intro: string } {
  const { name, source } = readSections(FILE, content.text(FILE));
  return { heading: name, intro: toText(source) };
}

/** Those that the log shows, in order; none where the report is older than portraits are. */
export function portraitParts(report: Report, content: Content): PortraitPart[] {
  const { portrait } = report;
  if (!portrait) return [];
  const prose = readSections(FILE, content.text(FILE));
  const format = formatOf(report, content);
  return [
    ...week(portrait, report),
    ...states(portrait, report),
    ...topUps(portrait, report),
    ...sleep(portrait, report),
    ...charging(portrait, report),
    ...temperature(portrait, report),
    ...inBursts(portrait),
    ...circuits(portrait),
    ...unusual(portrait, report),
    ...againstModel(report, content, format),
  ].map((one) => word(one, prose, format));
}

/** What each picture of the portrait shows, by its name. */
export function portraitConclusions(parts: readonly PortraitPart[]): ReadonlyMap<string, string> {
  return new Map(parts.flatMap(({ chart, conclusion }) => (chart ? [[chart, conclusion] as const] : [])));
}

function word({ id, section = id, chart, facts, items = [] }: PartFacts, prose: Section, format: Format): PortraitPart {
  const own = part(prose, section);
  const say = (name: string, values: Facts, write = format) =>
    toText(render(FILE, part(own, name)?.source ?? '', values, write));
  return {
    id,
    heading: say('heading', facts),
    plain: say('plain', facts, spoken(format)),
    detail: say('detail', facts),
    chart: chart ?? null,
    conclusion: chart ? say('conclusion', facts, spoken(format)) : '',
    items: items.map((item) => say(item.name, item.facts)),
  };
}

const minutesToS = (minutes: number | null) => (minutes === null ? null : 60 * minutes);
/** What the findings say is wrong with charging, no figure of the portrait calls usual. */
const CHARGING: ReadonlySet<string> = new Set(['charging-low', 'charging-high']);
const charges = ({ findings }: Report) =>
  !findings.some(({ check, status }) => CHARGING.has(check) && (status === 'fault' || status === 'watch'));
const measuredOf = ({ findings }: Report, check: string) =>
  findings.find((finding) => finding.check === check)?.measured ?? null;
const hasCurrent = ({ states: all }: Portrait) => all.some(({ current_a }) => current_a !== null);
/** A missing part of the log that is larger than this share is told. */
const MUCH_MISSING = 0.1;

const stateOf = ({ states: all }: Portrait, kind: string) => all.find((state) => state.kind === kind);

function week(portrait: Portrait, report: Report): PartFacts[] {
  const { drives, key_cycles, starts, top_ups, days } = portrait;
  const { missing_s, covered_s } = report.log;
  const clock = report.wake_patterns.find((one) => one.period_s !== null && one.count >= report.wakes.length / 2);
  return [
    {
      id: 'week',
      chart: 'portrait-day',
      facts: {
        days: days.length,
        drives: drives.count,
        drivenS: report.totals.driving_s,
        driveS: minutesToS(drives.minutes.p50),
        driveLowS: minutesToS(drives.minutes.p05),
        driveHighS: minutesToS(drives.minutes.p95),
        hasCurrent: hasCurrent(portrait),
        asleepShare: stateOf(portrait, 'asleep')?.share ?? 0,
        missingS: missing_s > MUCH_MISSING * (missing_s + covered_s) ? missing_s : null,
        cycles: key_cycles.count,
        starts: starts.count,
        restarts: starts.restarts,
        wakes: report.wakes.length,
        clockS: clock?.period_s ?? null,
        topUps: top_ups.count,
      },
    },
  ];
}

function states(portrait: Portrait, report: Report): PartFacts[] {
  if (portrait.states.length === 0) return [];
  const [asleep, driving] = [stateOf(portrait, 'asleep'), stateOf(portrait, 'driving')];
  // One and the same figure is said of one and the same thing.
  const draw = measuredOf(report, 'parked-draw');
  const facts = {
    charges: charges(report),
    anyCurrent: hasCurrent(portrait),
    sleeps: asleep !== undefined,
    drives: driving !== undefined,
    hasCurrent: asleep?.current_a != null,
    asleepA: draw?.value ?? (asleep?.current_a ? -asleep.current_a.p50 : null),
    asleepU: draw ? draw.uncertainty : (asleep?.current_u_a ?? null),
    asleepV: asleep?.voltage_v.p50 ?? null,
    asleepVU: asleep?.voltage_u_v ?? null,
    drivingV: driving?.voltage_v.p50 ?? null,
    drivingVU: driving?.voltage_u_v ?? null,
  };
  return [{ id: 'states', chart: 'portrait-states', facts }];
}

function topUps({ top_ups: found, days }: Portrait, report: Report): PartFacts[] {
  if (found.count === 0) {
    if (report.session.vehicle.powertrain === 'combustion') return [];
    const longestS = report.parked.reduce((most, { start, end }) => Math.max(most, epoch(end) - epoch(start)), 0);
    return [{ id: 'top-ups', section: 'top-ups: none', facts: { longestS } }];
  }
  const [meanA, endA] = [found.current_a.p50 ?? 0, found.end_current_a.p50 ?? 0];
  const facts = {
    topUps: found.count,
    days: days.length,
    periodS: found.period_s,
    lengthS: found.seconds.p50,
    lengthLowS: found.seconds.p05,
    lengthHighS: found.seconds.p95,
    volts: found.voltage_v.p50,
    amps: found.current_a.p50,
    chargeAh: found.charge_ah.p50,
    hasCurrent: found.current_a.p50 !== null,
    chargeLowAh: found.charge_ah.p05,
    chargeHighAh: found.charge_ah.p95,
    hasAfter: found.after_s.p50 !== null,
    afterS: found.after_s.p50,
    afterLowS: found.after_s.p05,
    afterHighS: found.after_s.p95,
    endA,
    tapers: endA < meanA / 2,
    byKeyOn: found.ended_by_key_on,
  };
  return [{ id: 'top-ups', chart: 'portrait-top-ups', facts }];
}

function sleep({ shutdown, settlings, circuits: all }: Portrait, report: Report): PartFacts[] {
  if (shutdown.length === 0) return [];
  // Where key-off was placed otherwise than for the findings, two times until asleep would stand in one report.
  const longest = measuredOf(report, 'sleep-time');
  if (longest && (settlings.seconds.p50 ?? 0) > longest.value + (longest.uncertainty ?? 0)) return [];
  const dark = inOrder(all, ({ off_after_key_off_s }) => off_after_key_off_s?.p50 ?? null);
  const facts = {
    steps: shutdown.length,
    settlings: settlings.count,
    settleS: settlings.seconds.p50,
    settleLowS: settlings.seconds.p05,
    settleHighS: settlings.seconds.p95,
    settleSame: Math.round((settlings.seconds.p05 ?? 0) / 60) === Math.round((settlings.seconds.p95 ?? 0) / 60),
    firstDark: dark[0] ?? null,
    lastDark: dark.length > 1 ? (dark.at(-1) ?? null) : null,
  };
  return [{ id: 'sleep', chart: 'portrait-shutdown', facts }];
}

/** Labels in order of time; none where several come at once, as in a log too slow to tell. */
function inOrder(all: Portrait['circuits'], of: (circuit: Portrait['circuits'][number]) => number | null): string[] {
  const timed = all.flatMap((circuit) => {
    const at = of(circuit);
    return at === null ? [] : [{ at, channel: circuit.channel }];
  });
  const times = timed.map(({ at }) => at);
  if (timed.length > 1 && Math.max(...times) - Math.min(...times) < 1) return [];
  return timed.toSorted((a, b) => a.at - b.at).map(({ channel }) => channel);
}

function charging(portrait: Portrait, report: Report): PartFacts[] {
  const [first, last] = [portrait.charging[0], portrait.charging.at(-1)];
  const volts = stateOf(portrait, 'driving')?.voltage_v.p50;
  if (!first || !last || first === last || volts === undefined) return [];
  const most = Math.max(...portrait.put_back.map(({ drives }) => drives));
  // The longest of the lengths that most drives have.
  const usual = portrait.put_back.findLast(({ drives }) => drives >= most / 2);
  const facts = {
    charges: charges(report),
    volts,
    hasCurrent: first.current_a !== null && last.current_a !== null,
    firstA: first.current_a?.p50 ?? null,
    lateA: last.current_a?.p50 ?? null,
    lateMin: last.from_s / 60,
    back: usual !== undefined,
    minutes: usual?.minutes ?? null,
    backAh: usual?.charge_ah.p50 ?? null,
  };
  return [{ id: 'charging', chart: 'portrait-charging', facts }];
}

/** From the coldest to the warmest; told where there are two temperatures at least. */
function temperature({ charging_by_temperature: parts }: Portrait, report: Report): PartFacts[] {
  const [cold, warm] = [parts[0], parts.at(-1)];
  if (!cold || !warm || cold === warm) return [];
  const middle = (part: typeof cold) => (part.from_c + part.to_c) / 2;
  const apartV = warm.voltage_v.p50 - cold.voltage_v.p50;
  const facts = {
    charges: charges(report),
    coldC: middle(cold),
    warmC: middle(warm),
    coldV: cold.voltage_v.p50,
    warmV: warm.voltage_v.p50,
    perDegreeV: Math.abs(apartV) / (middle(warm) - middle(cold)),
    falls: apartV < -CHANGES_V,
    rises: apartV > CHANGES_V,
  };
  return [{ id: 'temperature', chart: 'portrait-temperature', facts }];
}
/** A smaller change over all temperatures is none, V. */
const CHANGES_V = 0.1;

function inBursts({ bursts: found }: Portrait): PartFacts[] {
  if (!found) return [];
  const facts = {
    bursts: found.count,
    perHour: found.per_hour,
    lengthS: found.seconds.p50,
    lengthLowS: found.seconds.p05,
    lengthHighS: found.seconds.p95,
    volts: found.voltage_v.p50,
    amps: found.current_a.p50,
    chargeAh: found.charge_ah.p50,
    betweenV: found.between_voltage_v,
    betweenA: Math.abs(found.between_current_a),
    drains: found.between_current_a < 0,
    share: found.share,
  };
  return [{ id: 'bursts', chart: 'portrait-bursts', facts }];
}

function circuits({ circuits: all }: Portrait): PartFacts[] {
  if (all.length === 0) return [];
  const on = inOrder(all, ({ on_after_key_on_s }) => on_after_key_on_s?.p50 ?? null);
  const [first, last] = [on[0] ?? null, on.length > 1 ? (on.at(-1) ?? null) : null];
  const timed = all.find(({ channel }) => channel === first)?.on_after_key_on_s ?? null;
  const facts = {
    circuits: all.length,
    first,
    last,
    wakesBefore: timed !== null && timed.p50 < -1,
    firstS: timed && Math.abs(timed.p50),
    order: on.length > 1 ? on.join(' → ') : null,
  };
  return [{ id: 'circuits', ...(timed ? { chart: 'portrait-key-on' } : {}), facts }];
}

/** As many stands as it takes to say what is usual. */
const ENOUGH = 5;

function unusual({ unusual: found }: Portrait, { parked }: Report): PartFacts[] {
  const items = found.map(({ figure, start, value, usual, others }) => ({
    name: figure,
    facts: { startT: epoch(start), value, low: usual.p05, high: usual.p95, others },
  }));
  const enough = parked.filter((stand) => stand.sleep_draw_a !== null).length >= ENOUGH;
  const stands = new Set(found.map(({ start }) => start)).size;
  return [{ id: 'unusual', facts: { unusual: stands, enough }, items }];
}

/** Where this vehicle lies among others of its model; a part of its own on the page. */
export const MODEL_PART = 'model';

function againstModel({ against_model: against }: Report, content: Content, format: Format): PartFacts[] {
  if (!against) return [];
  const outside = against.figures.filter((one) => one.outside);
  const items = outside.map((one) => ({
    name: 'outside',
    facts: {
      figure: figureName(one, content),
      value: figureText(one, one.value, format),
      low: figureText(one, one.low, format),
      high: figureText(one, one.high, format),
      chance: chanceText(one.chance, format, content),
    },
  }));
  const facts = {
    model: against.model,
    named: against.from === 'limits',
    vehicles: against.vehicles,
    figures: against.figures.length,
    held: against.figures.filter(({ method }) => method !== 'seen').length,
    outside: outside.length,
    first: outside[0] ? figureName(outside[0], content) : null,
    missing: against.missing.map((one) => figureName(one, content)).join('; '),
  };
  return [{ id: MODEL_PART, chart: MODEL_PICTURE, facts, items }];
}
