/** Puts everything together as `report.json`. Adds words, rounding and ISO times; works nothing out. */
import type { Analysis } from '../analysis/model.ts';
import { zoneOf } from '../base/zone.ts';
import type { Finding } from '../checks/check.ts';
import type { Session } from '../manifest/session.ts';
import type { Report, ReportFinding } from './contract/report.ts';
import { againstModel } from './model/against-model.ts';
import type { Healthy } from './model/values.ts';
import { reportEvents } from './report-events.ts';
import { reportPortrait } from './report-portrait.ts';
import { iso, reportLog, reportSession, six, sixOrNull } from './report-session.ts';
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
    ...reportEvents(analysis, session),
    portrait,
    against_model: againstModel(portrait, session, input.healthy ?? null),
    findings,
    summary: summarise(findings, content, format, {
      concern: session.purpose !== 'baseline' && session.concern !== undefined,
      hasAlternator: session.vehicle.powertrain === 'combustion',
      stoodS: stoodS(analysis),
    }),
    checklist: checklist(worded, content),
    cautions: cautions(findings, content),
    method: method(findings, content),
  };
}

/** The longest stand after which it was driven; 0 where a start failed or something fed it, and nobody knows what it would have done alone. */
function stoodS({ stands, cranks, periods }: Analysis): number {
  const alone = cranks.every(({ started }) => started) && periods.every(({ kind }) => kind !== 'on-charger');
  return alone ? Math.max(0, ...stands.filter((one) => one.keyOnInLog).map(({ start, end }) => end - start)) : 0;
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
