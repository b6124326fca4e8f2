import { describe, expect, it } from 'vitest';
import { createAnalyser } from '../../src/analysis/analyse.ts';
import { runChecks } from '../../src/checks/run.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import { createGapFinder } from '../../src/log/order/gaps.ts';
import { randomScenario, type Wishes } from '../sweep/vehicles.ts';
import { compare, compareFindings } from './compare.ts';
import { fromAnalysis } from './observed.ts';
import { cleanLog, sessionFor } from './session-for.ts';

/** The first vehicles by number, not chosen: leaving one out would be tuning. */
const CASES: readonly [number, Wishes][] = [
  ...Array.from({ length: 12 }, (_, n): [number, Wishes] => [n, { plain: true, stepS: 1 }]),
  [12, { plain: true, stepS: 10, days: 3 }],
  [13, { plain: true, stepS: 10, days: 2 }],
  [14, { plain: true, stepS: 0.1, days: 1 }],
  [15, { plain: true, stepS: 0.1, days: 1 }],
];

function analysed(scenario: Scenario) {
  const simulation = simulate(scenario);
  const session = sessionFor(scenario);
  const analyser = createAnalyser(session);
  const gaps = createGapFinder();
  for (const block of simulation.samples) {
    analyser.push(block);
    for (let row = 0; row < block.n; row++) gaps.push(block.t[row]);
  }
  const analysis = analyser.finish(cleanLog(gaps.finish()));
  return { analysis, findings: runChecks(analysis, session), truth: simulation.truth() };
}

describe('invented vehicles', () => {
  it.each(CASES)('number %i %j is understood as it truly was', (number, wishes) => {
    const scenario = randomScenario(number, wishes);
    const { analysis, findings, truth } = analysed(scenario);
    expect({
      facts: compare(fromAnalysis(analysis), truth, scenario),
      findings: compareFindings(findings, truth),
    }).toEqual({ facts: [], findings: [] });
  });
});
