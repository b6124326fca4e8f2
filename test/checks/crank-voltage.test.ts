import { expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { check } from '../../src/checks/crank-voltage.ts';
import { nothing, session, week } from './analysis-fixture.ts';
import { withTiles } from './tile-story.ts';

const ask = (story: Parameters<typeof week>[0], changes = {}) => check.answer(week(story), session(changes));

test('10.4 V at 15 °C is clear', () => {
  const answer = ask({ crankV: 10.4, temperatureC: 16 });
  expect(answer).toMatchObject({ status: 'clear', limit: { value: 9.5 } });
});

test('8.9 V at 16 °C is a fault, and at −18 °C it is not', () => {
  expect(ask({ crankV: 8.9, temperatureC: 16 }).status).toBe('fault');
  expect(ask({ crankV: 8.9, temperatureC: -18 }).status).toBe('clear');
});

test('24 V is judged by twice the table', () => {
  expect(ask({ crankV: 8.9, scale: 2 }, { vehicle: { systemV: 24 } })).toMatchObject({ status: 'fault' });
  expect(ask({ crankV: 10.4, scale: 2 }, { vehicle: { systemV: 24 } })).toMatchObject({ status: 'clear' });
});

test('one weak crank of fourteen is worth watching, two are a fault', () => {
  expect(ask({ crankV: (k) => (k === 4 ? 8.5 : 10.4) }).status).toBe('watch');
  expect(ask({ crankV: (k) => (k === 4 || k === 8 ? 8.5 : 10.4) }).status).toBe('fault');
});

test('a battery is called charged by the rest before the weak crank, and only where little went since', () => {
  const charged = (analysis: Analysis) => (check.answer(analysis, session()).facts as { charged?: boolean }).charged;
  const weak = week({ crankV: (k) => (k === 4 || k === 8 ? 8.5 : 10.4), restV: 12.7 });
  expect(charged(weak)).toBe(true);
  expect(charged(week({ crankV: 8.5, restV: 12.1 }))).toBe(false);
  // Drained between its last rest and the crank; well charged again at the end.
  const at = Math.min(...[4, 8].map((k) => weak.cranks[k]?.at ?? 0));
  const periods = weak.periods.map((one) =>
    one.end <= at && one.end > at - 86_400 ? { ...one, chargeOutAh: 20 } : one,
  );
  const stands = weak.stands.map((stand) =>
    stand.end <= at && stand.end > at - 86_400 ? { ...stand, rest: null } : stand,
  );
  const worst = weak.cranks.map((crank, k) =>
    k === 8 ? { ...crank, ...(weak.cranks[0] ?? crank), at: crank.at } : crank,
  );
  expect(charged({ ...weak, periods, stands, cranks: worst })).toBe(false);
});

test('a single weak crank that did not start the engine is a fault', () => {
  const analysis = week({ crankV: (k) => (k === 4 ? 8.5 : 10.4) });
  const cranks = analysis.cranks.map((crank, k) => (k === 4 ? { ...crank, started: false } : crank));
  expect(check.answer({ ...analysis, cranks }, session())).toMatchObject({ status: 'fault', facts: { failed: 1 } });
});

test('the only crank, weak, is a fault', () => {
  expect(ask({ crankV: (k) => (k === 0 ? 8.5 : null) })).toMatchObject({ status: 'fault', facts: { judged: 1 } });
});

test('no verdict where the log has too few samples after the inrush', () => {
  expect(ask({ crankV: null })).toMatchObject({
    status: 'undecided',
    reason: 'too-few-samples',
    facts: { cranks: 14 },
  });
});

test('without a temperature only what holds at any temperature is a verdict', () => {
  const unknown = { temperature: false };
  expect(ask({ crankV: 10.4, ...unknown }).status).toBe('clear');
  expect(ask({ crankV: 8.0, ...unknown }).status).toBe('fault');
  expect(ask({ crankV: 9.0, ...unknown })).toMatchObject({ status: 'undecided', reason: 'no-crank-temperature' });
});

test('the manifest’s limit holds at every temperature', () => {
  const limits = { crankingVoltage: { value: 9, source: 'Service information' } };
  expect(ask({ crankV: 9.3, temperature: false }, { limits })).toMatchObject({ status: 'clear', limit: { value: 9 } });
});

test('a limit that falls with the cold lies as far above the table at every temperature', () => {
  const limits = { crankingVoltage: { value: 10.2, source: 'a healthy one', fallsWithCold: true } };
  const judged = (crankV: number, more: object) => ask({ crankV, ...more }, { limits });
  expect(judged(9.9, { temperatureC: 16 })).toMatchObject({ status: 'fault', limit: { source: 'a healthy one' } });
  expect(judged(9.9, { temperatureC: 16 }).limit?.value).toBeCloseTo(10.1, 6);
  expect(judged(9.9, { temperatureC: -18 })).toMatchObject({ status: 'clear' });
  expect(judged(9.9, { temperature: false })).toMatchObject({ status: 'undecided', reason: 'no-crank-temperature' });
  expect(judged(8.8, { temperature: false })).toMatchObject({ status: 'fault' });
});

test('a starter that turned for longer than 30 s is told', () => {
  const analysis = week({ crankV: 10 });
  const cranks = analysis.cranks.map((crank, k) => (k === 2 ? { ...crank, seconds: 34 } : crank));
  expect(check.answer({ ...analysis, cranks }, session()).facts?.tooLongS).toBe(34);
  expect(check.answer(analysis, session()).facts?.tooLongS).toBeNull();
});

test('a limit within value ± U gives no verdict', () => {
  expect(ask({ crankV: 9.5, temperatureC: 16 })).toMatchObject({
    status: 'undecided',
    reason: 'limit-within-uncertainty',
  });
});

test.each(['electric', 'hybrid'] as const)('a %s vehicle that never cranks has no starter to judge', (powertrain) => {
  expect(ask({ starter: false }, { vehicle: { powertrain } })).toMatchObject({
    status: 'undecided',
    reason: 'no-starter',
  });
});

test('no crank in the log', () => {
  expect(check.answer(nothing(), session())).toMatchObject({ status: 'undecided', reason: 'no-crank' });
});

test('starts that fail although the voltage holds are told, and follow from no battery', () => {
  const analysis = week({ crankV: 10.4 });
  const last = (analysis.drives.at(-1)?.end ?? 0) + 3600;
  const events = [0, 60, 120].map((s) => ({
    kind: 'failed-start' as const,
    start: last + s,
    seconds: 8,
    meanA: 180,
    voltsMin: 9.9,
  }));
  const answer = check.answer({ ...analysis, events }, session());
  expect(answer).toMatchObject({ status: 'fault', variant: 'no-start', facts: { failed: 3, neverRan: true } });
  const causes = typeof check.causes === 'function' ? check.causes : () => [];
  expect(causes({ ...answer, check: check.id, cautions: [] })).toEqual([]);
  // A plateau at nothing is a contact that was lost.
  const lost = week({ crankV: (k) => (k === 4 ? 0.2 : 10.4) });
  expect(check.answer(lost, session()).status).toBe('clear');
});

test('far less voltage with less current than soon after is a contact, also where the start failed for it', () => {
  const told = week({ crankV: 10.4 });
  const [first] = told.cranks;
  if (!first) throw new Error('a crank was given');
  const load = { start: first.at - 30, seconds: 1, meanA: 60, voltsMin: 5.5 };
  const asked = (kind: 'heavy-load' | 'failed-start', volts: number) => {
    const events = [{ ...load, kind }];
    const at = (t: number) => (t >= load.start && t < load.start + 1 ? volts : 12.5);
    return check.answer(
      withTiles({ ...told, events }, (t) => ({ v: at(t) }), 1),
      session(),
    );
  };
  expect(asked('failed-start', 5.6)).toMatchObject({
    status: 'fault',
    variant: 'contact',
    facts: { contactV: 5.5, contacts: 1 },
  });
  expect(asked('heavy-load', 12.2).status).toBe('clear');
});

test('starts after which the engine may have run are told as that, also where it ran later, and may follow from a charging that fails', () => {
  const analysis = week({ crankV: 10.4 });
  const drives = analysis.drives.slice(2, 4);
  const events = drives.map(({ start }) => ({
    kind: 'failed-start' as const,
    start: start - 1,
    seconds: 1,
    meanA: 180,
    voltsMin: 9.9,
  }));
  const drained = { chargeInAh: 0, chargeOutAh: 6 };
  const during = (t: number) => drives.some(({ start, end }) => t >= start && t < end);
  const periods = analysis.periods.map((one) => (during(one.start) ? { ...one, ...drained } : one));
  const answer = check.answer({ ...analysis, events, periods }, session());
  expect(answer).toMatchObject({ status: 'watch', variant: 'may-have-run', facts: { failed: 2 } });
  const causes = typeof check.causes === 'function' ? check.causes : () => [];
  expect(causes({ ...answer, check: check.id, cautions: [] })).toEqual(['charging-low']);
  // A lamp of 2 A is nothing of the kind.
  expect(check.answer({ ...analysis, events }, session())).toMatchObject({ variant: 'no-start' });
});

test('that only the battery’s part of starting is seen is said where rows are slower than a click', () => {
  const quick = { ...week(), stepsS: { driving: 1, parked: 0.02, awake: 0.02 } };
  const slow = { ...week(), stepsS: { driving: 1, parked: 1, awake: 1 } };
  expect(check.answer(quick, session()).facts).toMatchObject({ slowS: null });
  expect(check.answer(slow, session()).facts).toMatchObject({ slowS: 1 });
});
