/**
 * Holds the checks against many simulated vehicles: `npm run sweep -- [count] [first]` (500 from number 0). Each vehicle is
 * the same in every run; of four, one is woken often and two have faults. Prints a table in Markdown, one row a check, of the
 * cases where the truth leaves no doubt, then every case that went wrong and every report that does not agree with itself. Not part of the ordinary tests: it takes about a second a vehicle.
 */

import { createAnalyser } from '../../src/analysis/analyse.ts';
import type { Analysis } from '../../src/analysis/model.ts';
import type { Finding, Status } from '../../src/checks/check.ts';
import { CHECKS } from '../../src/checks/registry.ts';
import { runChecks } from '../../src/checks/run.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import type { Truth } from '../../src/demo/truth.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import { createGapFinder } from '../../src/log/order/gaps.ts';
import type { Session } from '../../src/manifest/session.ts';
import { wakePatterns } from '../../src/measures/wakes/patterns.ts';
import { loadContent } from '../../src/node/content.ts';
import { buildReport } from '../../src/report/build-report.ts';
import { cleanLog, sessionFor } from '../simulated/session-for.ts';
import { faultyScenario } from './faulty-vehicles.ts';
import { randomScenario } from './vehicles.ts';
import { wakefulScenario } from './wakeful-vehicles.ts';

type Outcome = 'found' | 'missed' | 'rightly clear' | 'falsely accused' | 'undecided' | 'rightly undecided';
const OUTCOMES: readonly Outcome[] = [
  'found',
  'missed',
  'rightly clear',
  'falsely accused',
  'undecided',
  'rightly undecided',
];

interface Case {
  readonly asked: string;
  readonly outcome: Outcome;
  readonly told: string;
}

/** Outside of what is compiled: plain JavaScript, see there. */
const { disagreements } = (await import(
  new URL('../../../../test/cases/agreement.mjs', import.meta.url).href
)) as typeof import('../cases/agreement.mjs');
// Compiled beside itself, it does not find its words by where it lies.
const content = loadContent('en', ['content']);
const KINDS = [randomScenario, wakefulScenario, faultyScenario, faultyScenario];
const [count = 500, first = 0] = process.argv.slice(2).map(Number);
const counts = new Map<string, Map<Outcome, number>>();
const wrong: string[] = [];
let disagreeing = 0;
for (let number = first; number < first + count; number++) {
  const { cases, contradictions } = casesOf(KINDS[number % 4](number));
  if (contradictions.length > 0) disagreeing++;
  wrong.push(...contradictions.map((found) => `- vehicle ${number} disagrees: ${found}`));
  for (const { asked, outcome, told } of cases) {
    const row = counts.get(asked) ?? new Map<Outcome, number>();
    counts.set(asked, row.set(outcome, (row.get(outcome) ?? 0) + 1));
    if (outcome === 'missed' || outcome === 'falsely accused')
      wrong.push(`- vehicle ${number}: ${asked} ${outcome}: ${told}`);
  }
}
const rows = [...CHECKS.map(({ id }) => id), 'wake period', 'named circuit'].map((asked) => {
  const row = counts.get(asked);
  return row
    ? `| ${asked} | ${OUTCOMES.map((outcome) => row.get(outcome) ?? 0).join(' | ')} |`
    : `| ${asked} | not asked |||||`;
});
const head = [`| check | ${OUTCOMES.join(' | ')} |`, `| --- |${' ---: |'.repeat(OUTCOMES.length)}`];
process.stdout.write(
  `Vehicles ${first} to ${first + count - 1}\n\n${[...head, ...rows, '', `Reports that do not agree with themselves: ${disagreeing}`, '', ...wrong].join('\n')}\n`,
);

function casesOf(scenario: Scenario): { readonly cases: Case[]; readonly contradictions: string[] } {
  const session = sessionFor(scenario);
  const simulation = simulate(scenario);
  const analyser = createAnalyser(session);
  const gaps = createGapFinder();
  for (const block of simulation.samples) {
    analyser.push(block);
    for (let row = 0; row < block.n; row++) gaps.push(block.t[row]);
  }
  const analysis = analyser.finish(cleanLog(gaps.finish()));
  const truth = simulation.truth();
  const findings = runChecks(analysis, session);
  const report = buildReport({ session, analysis, findings, language: 'en', version: 'sweep', content });
  const cases = [
    ...Object.entries(truth.expected).flatMap(([asked, allowed]) => {
      const finding = findings.find((one) => one.check === asked);
      return finding ? [{ asked, outcome: outcomeOf(finding.status, allowed), told: tell(finding) }] : [];
    }),
    ...periodCases(scenario, session, analysis, truth),
    ...circuitCases(scenario, findings, truth),
  ];
  return { cases, contradictions: disagreements(JSON.parse(JSON.stringify(report))) };
}

function outcomeOf(status: Status, allowed: readonly Status[]): Outcome {
  const accuses = status === 'fault' || status === 'watch';
  if (allowed.includes(status)) return accuses ? 'found' : status === 'clear' ? 'rightly clear' : 'rightly undecided';
  if (status === 'undecided') return 'undecided';
  return accuses ? 'falsely accused' : 'missed';
}

function tell({ status, reason, measured, limit }: Finding): string {
  const value = measured ? `${measured.value.toPrecision(3)} ± ${measured.uncertainty?.toPrecision(2) ?? '?'}` : '';
  return [status, reason ?? '', value, limit ? `against ${limit.value}` : ''].filter(Boolean).join(' ');
}

/** A period must be that of a source in the vehicle; a source that woke it often enough alone must have its period found. */
function periodCases(scenario: Scenario, session: Session, analysis: Analysis, truth: Truth): Case[] {
  const asked = 'wake period';
  const periods = scenario.wakes.flatMap(({ timing }) => ('everyS' in timing ? [timing.everyS] : []));
  const found = wakePatterns(analysis, session).flatMap(({ periodS, count, parts }) =>
    periodS ? [{ periodS, count, parts }] : [],
  );
  const near = (a: number, b: number) => Math.abs(a / b - 1) < 0.03;
  const falsely = found.filter(({ periodS }) => !periods.some((everyS) => near(periodS, everyS)));
  const told = `${found.map(({ periodS, count: n }) => `${Math.round(periodS)} s (${n})`).join(', ') || 'none'}; truly ${periods.map(Math.round).join(', ') || 'none'}; ${analysis.wakes.length} wakes`;
  if (falsely.length > 0) return [{ asked, outcome: 'falsely accused', told }];
  if (found.length > 0) return [{ asked, outcome: 'found', told }];
  if (periods.length === 0) return analysis.wakes.length > 2 ? [{ asked, outcome: 'rightly clear', told }] : [];
  // Ten intervals of one source are enough to see its clock by; fewer may be. Each stand begins anew.
  const intervals = (everyS: number) =>
    truth.parked.reduce((sum, { asleepS }) => sum + Math.max(0, Math.floor(asleepS / everyS) - 1), 0);
  const often = scenario.sensor.hasCurrent && periods.some((everyS) => intervals(everyS) >= 10);
  return [{ asked, outcome: often ? 'missed' : 'undecided', told }];
}

/** A named circuit must be one that truly goes with wakes. */
function circuitCases(scenario: Scenario, findings: readonly Finding[], truth: Truth): Case[] {
  const finding = findings.find((one) => one.check === 'circuit-link');
  const isNamed = finding && (finding.status === 'fault' || finding.variant === 'linked');
  if (!isNamed || !finding.facts) return [];
  const { channel } = finding.facts;
  const isTrue =
    finding.variant === 'settlings'
      ? scenario.drives.some(({ held }) => held && scenario.channels[held.channel ?? -1]?.label === channel)
      : truth.wakes.some((wake) => wake.channels.includes(String(channel)));
  return [{ asked: 'named circuit', outcome: isTrue ? 'found' : 'falsely accused', told: String(channel) }];
}
