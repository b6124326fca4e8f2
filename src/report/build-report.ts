/** Puts everything together as `report.json`. Adds words, rounding and ISO times; works nothing out. */
import type { Analysis, Stand } from '../analysis/model.ts';
import { there } from '../base/there.ts';
import { zoneOf } from '../base/zone.ts';
import type { Finding } from '../checks/check.ts';
import type { Session } from '../manifest/session.ts';
import { accountU } from '../measures/account/account-u.ts';
import { heldU } from '../measures/account/held-u.ts';
import { type StandAccount, standAccounts } from '../measures/account/stand-account.ts';
import { circuitLinks } from '../measures/circuits/links.ts';
import { chargeOfRest } from '../measures/rested-charge.ts';
import { expandedU } from '../measures/sensor.ts';
import { betweenEdges } from '../measures/stands.ts';
import { wakePatterns } from '../measures/wakes/patterns.ts';
import type { Report, ReportFinding } from './contract/report.ts';
import { againstModel } from './model/against-model.ts';
import type { Healthy } from './model/values.ts';
import { reportPortrait } from './report-portrait.ts';
import { iso, reportLog, reportSession, seconds, six, sixOrNull } from './report-session.ts';
import { summarise } from './summary.ts';
import { readCaution } from './words/cautions.ts';
import type { Content } from './words/content.ts';
import { type Format, makeFormat } from './words/format.ts';
import { part, readSections, readSteps, STAGES, toText } from './words/prose.ts';
import { wordFinding } from './words/wording.ts';

export interface BuildInput {
  readonly session: Session;
  readonly analysis: Analysis;
  /** In report order. */
  readonly findings: readonly Finding[];
  /** Folder of `content/`. */
  readonly language: string;
  readonly version: string;
  /** Where prose is read from. */
  readonly content: Content;
  /** Healthy vehicles of the model, to hold this one against. */
  readonly healthy?: Healthy | null;
}

/** Throws a `UserError` where prose is missing or asks for a value that an answer does not give. */
export function buildReport(input: BuildInput): Report {
  const { session, analysis, language, version, content } = input;
  const format = makeFormat(content.locale, zoneOf(session.timezone), content.label('unknown'));
  const worded = input.findings.map((finding) => wordOne(finding, content, format));
  const findings = worded.map((one) => one.finding);
  const portrait = reportPortrait(analysis, session);
  return {
    schema: 'standstill-report/1',
    tool: { name: 'standstill', version },
    language,
    session: reportSession(session, language, content.phrase),
    log: reportLog(analysis, content.phrase),
    ...events(analysis, session),
    portrait,
    against_model: againstModel(portrait, session, input.healthy ?? null),
    findings,
    summary: summarise(findings, content, format, session.purpose !== 'baseline' && session.concern !== undefined),
    checklist: checklist(worded, content),
    cautions: cautions(findings, content),
    method: method(findings, content),
  };
}

interface Worded {
  readonly finding: ReportFinding;
  readonly steps: ReturnType<typeof wordFinding>['steps'];
}

function wordOne(finding: Finding, content: Content, format: Format): Worded {
  const { name, question, title, plain, detail, reason, steps } = wordFinding(finding, content, format);
  const { measured } = finding;
  const limit = finding.limit && { ...finding.limit, source: content.phrase('source', finding.limit.source) };
  return {
    steps,
    finding: {
      check: finding.check,
      name,
      question,
      status: finding.status,
      title,
      plain,
      detail,
      measured: measured
        ? {
            value: six(measured.value),
            unit: measured.unit,
            uncertainty: sixOrNull(measured.uncertainty),
            coverage: measured.coverage ?? 2,
          }
        : null,
      limit: limit ? { value: six(limit.value), unit: limit.unit, source: limit.source } : null,
      reason,
      variant: finding.variant ?? null,
      reason_key: finding.reason ?? null,
      evidence: (finding.evidence ?? []).map(({ chart, from, to }) => ({ chart, from: iso(from), to: iso(to) })),
      cautions: finding.status === 'clear' ? [] : [...finding.cautions],
      next_steps: steps.map((step) => step.text),
      follows: finding.follows ?? null,
    },
  };
}

type Events = Pick<
  Report,
  'periods' | 'parked' | 'wakes' | 'wake_patterns' | 'cranks' | 'drives' | 'links' | 'totals' | 'events'
>;

function events(analysis: Analysis, session: Session): Events {
  const { totals } = analysis;
  const accounts = standAccounts(analysis, session);
  return {
    periods: analysis.periods.map((period) => ({
      kind: period.kind,
      start: iso(period.start),
      end: iso(period.end),
      seconds: seconds(period.end - period.start),
      charge_in_ah: six(period.chargeInAh),
      charge_out_ah: six(period.chargeOutAh),
      evidence: [...period.evidence],
      certainty: Math.round(period.certainty * 1000) / 1000,
    })),
    parked: analysis.stands.map((stand, at) => ({
      start: iso(stand.start),
      end: iso(stand.end),
      key_off_in_log: stand.keyOffInLog,
      time_to_sleep_s: stand.timeToSleepS === null ? null : seconds(stand.timeToSleepS),
      time_to_sleep_u_s: stand.timeToSleepS === null ? null : seconds(expandedU(betweenEdges(analysis))),
      sleep_draw_a: sixOrNull(stand.sleepDrawA?.value),
      sleep_draw_u_a: sixOrNull(stand.sleepDrawA && expandedU(stand.sleepDrawA)),
      mean_draw_a: sixOrNull(stand.meanDrawA?.value),
      mean_draw_u_a: sixOrNull(stand.meanDrawA && expandedU(stand.meanDrawA)),
      charge_out_ah: six(stand.chargeOutAh),
      charge_out_u_ah: analysis.has.current ? six(expandedU(stand.chargeOutU)) : null,
      wakes: stand.wakes,
      rest_voltage_v: sixOrNull(stand.rest?.volts.value),
      rest_voltage_u_v: sixOrNull(stand.rest && expandedU(stand.rest.volts)),
      ...chargeAtRest(stand, session),
      ...accountOf(there(accounts[at]), stand, analysis, session),
    })),
    wakes: analysis.wakes.map((wake) => ({
      start: iso(wake.start),
      seconds: seconds(wake.seconds),
      peak_a: six(wake.peakA),
      mean_a: six(wake.meanA),
      charge_ah: six(wake.chargeAh),
      channels: [...wake.channels],
    })),
    wake_patterns: wakePatterns(analysis, session).map((pattern) => ({
      count: pattern.count,
      period_s: pattern.periodS === null ? null : seconds(pattern.periodS),
      seconds: seconds(pattern.seconds),
      mean_a: six(pattern.meanA),
      charge_ah_per_day: six(pattern.chargeAhPerDay),
      channel: pattern.channel,
    })),
    cranks: analysis.cranks.map((crank) => ({
      at: iso(crank.at),
      seconds: seconds(crank.seconds),
      volts_before: six(crank.voltsBefore),
      volts_min: six(crank.voltsMin),
      volts_cranking: sixOrNull(crank.voltsCranking?.value),
      volts_cranking_u_v: sixOrNull(crank.voltsCranking && expandedU(crank.voltsCranking)),
      amps_peak: sixOrNull(crank.ampsPeak),
      resistance_ohm: sixOrNull(crank.resistanceOhm?.value),
      resistance_u_ohm: sixOrNull(crank.resistanceOhm && expandedU(crank.resistanceOhm)),
      temperature_c: sixOrNull(crank.temperatureC),
    })),
    events: analysis.events.map((event) => ({
      kind: event.kind,
      start: iso(event.start),
      seconds: seconds(event.seconds),
      mean_a: sixOrNull(event.meanA),
      volts_min: six(event.voltsMin),
    })),
    drives: analysis.drives.map((drive) => ({
      start: iso(drive.start),
      end: iso(drive.end),
      volts_median: six(drive.voltsMedian),
      charge_in_ah: six(drive.chargeInAh),
      charge_out_ah: six(drive.chargeOutAh),
    })),
    links: circuitLinks(analysis, session).map((link) => ({
      channel: link.channel,
      wakes_with: link.wakesWith,
      wakes_seen: link.wakesSeen,
      charge_share: six(link.chargeShare),
      chance: six(link.chance),
      lag_s: sixOrNull(link.lagS),
      settlings: link.settlings
        ? {
            slow_with: link.settlings.slowWith,
            slow_seen: link.settlings.slowSeen,
            quick_with: link.settlings.quickWith,
            quick_seen: link.settlings.quickSeen,
            charge_share: six(link.settlings.chargeShare),
            lag_s: sixOrNull(link.settlings.lagS),
            chance: six(link.settlings.chance),
          }
        : null,
    })),
    totals: {
      charge_in_ah: six(totals.chargeInAh),
      charge_out_ah: six(totals.chargeOutAh),
      charge_in_u_ah: analysis.has.current ? six(expandedU(totals.chargeInU)) : null,
      charge_out_u_ah: analysis.has.current ? six(expandedU(totals.chargeOutU)) : null,
      driving_s: seconds(totals.drivingS),
      parked_s: seconds(totals.parkedS),
      asleep_s: seconds(totals.asleepS),
      awake_s: seconds(totals.awakeS),
    },
  };
}

function accountOf(
  account: StandAccount,
  stand: Stand,
  analysis: Analysis,
  session: Session,
): Pick<Report['parked'][number], 'account' | 'held'> {
  const of = accountU(account, stand, analysis, session);
  const u = (part: keyof typeof of) => (analysis.has.current ? six(expandedU(of[part])) : null);
  return {
    account: {
      settling_ah: six(account.settlingAh),
      settling_u_ah: u('settling'),
      asleep_ah: six(account.asleepAh),
      asleep_u_ah: u('asleep'),
      wakes_ah: six(account.wakesAh),
      wakes_u_ah: u('wakes'),
      held_ah: six(account.heldAh),
      held_u_ah: u('held'),
      fed_ah: six(account.fedAh),
      fed_u_ah: u('fed'),
      unknown_ah: six(account.unknownAh),
      unknown_u_ah: u('unknown'),
    },
    held: account.held.map((load) => {
      const { meanA, chargeAh } = heldU(load, analysis, session);
      return {
        start: iso(load.start),
        end: iso(load.end),
        mean_a: six(load.meanA),
        mean_u_a: six(expandedU(meanA)),
        charge_ah: six(load.chargeAh),
        charge_u_ah: six(expandedU(chargeAh)),
      };
    }),
  };
}

/** State of charge, 0 to 1, that the stand's best rest shows; null where the battery did not rest long enough to tell. */
function chargeAtRest(
  { rest }: Stand,
  session: Session,
): Pick<Report['parked'][number], 'state_of_charge' | 'state_of_charge_u'> {
  const charge = rest && chargeOfRest(rest, session);
  return { state_of_charge: sixOrNull(charge?.value), state_of_charge_u: sixOrNull(charge?.U) };
}

/** Steps of all findings that are not clear, in the trade's order; the same step asked for twice stands once. */
function checklist(worded: readonly Worded[], content: Content): Report['checklist'] {
  const open = worded.filter(({ finding }) => finding.status !== 'clear');
  const asked = open.flatMap(({ finding, steps }) => steps.map((step) => ({ ...step, check: finding.check })));
  const file = 'checklist.md';
  const always = readSteps(
    file,
    part(readSections(file, content.text(file)), open.length > 0 ? 'always' : 'clear')?.source ?? '',
  );
  const all = [...always.map((step) => ({ ...step, check: null })), ...asked];
  return STAGES.flatMap((stage) => {
    const steps = all.filter((step) => step.stage === stage);
    return [...new Set(steps.map((step) => step.text))].map((text) => ({
      stage,
      text,
      checks: [...new Set(steps.flatMap((step) => (step.text === text && step.check ? [step.check] : [])))],
    }));
  });
}

/** In the order of `cautions.md`, those that a finding names. */
function cautions(findings: readonly ReportFinding[], content: Content): Report['cautions'] {
  const named = new Set(findings.flatMap((finding) => finding.cautions));
  if (named.size === 0) return [];
  const prose = readSections('cautions.md', content.text('cautions.md'));
  return prose.parts.filter((section) => named.has(section.name)).map(readCaution);
}

/** The general part, then each check's own. */
function method(findings: readonly ReportFinding[], content: Content): Report['method'] {
  const general = readSections('method.md', content.text('method.md')).parts;
  const own = findings.flatMap((finding) => {
    const file = `checks/${finding.check}.md`;
    const section = part(readSections(file, content.text(file)), 'method');
    return section ? [{ name: finding.name, source: section.source }] : [];
  });
  return [...general, ...own].map(({ name, source }) => ({ title: name, text: toText(source) }));
}
