import { expect, it } from 'vitest';
import type { Period, PeriodKind } from '../../../src/analysis/model.ts';
import { cycles } from '../../../src/measures/portrait/cycles.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

function keyCycles(...told: readonly (readonly [PeriodKind, number])[]) {
  let at = 0;
  const periods = told.map(([kind, seconds]): Period => {
    const start = at;
    at += seconds;
    return { kind, start, end: at, chargeInAh: 0, chargeOutAh: 0, evidence: [], certainty: 1 };
  });
  return cycles({ ...week(), periods }, session()).keyCycles;
}

it('a key cycle goes from key-on to key-off, with or without a drive', () => {
  const found = keyCycles(
    ['asleep', 100],
    ['key-on', 10],
    ['cranking', 1],
    ['driving', 600],
    ['settling', 60],
    ['key-on', 30],
  );
  expect(found).toEqual([
    { start: 100, end: 711, drives: true },
    { start: 771, end: 801, drives: false },
  ]);
});

it('a short hole does not end it, a long one does', () => {
  expect(keyCycles(['driving', 600], ['no-data', 60], ['driving', 600])).toHaveLength(1);
  expect(keyCycles(['driving', 600], ['no-data', 61], ['driving', 600])).toHaveLength(2);
});

it('a start within a drive is a restart, and a failed one is none', () => {
  const analysis = week();
  const cranks = analysis.cranks.map((crank, k) => ({
    ...crank,
    ...(k === 0 && { at: analysis.drives[0].start + 300 }),
    ...(k === 1 && { started: false }),
  }));
  expect(cycles({ ...analysis, cranks }, session())).toMatchObject({
    starts: cranks.length - 1,
    restarts: 1,
    drives: analysis.drives.length,
  });
  expect(cycles(analysis, session()).driveMinutes?.p50).toBeCloseTo(30, 1);
});
