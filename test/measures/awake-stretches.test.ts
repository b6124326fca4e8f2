import { expect, it } from 'vitest';
import type { Period } from '../../src/analysis/model.ts';
import { awakeStretches } from '../../src/measures/awake-stretches.ts';
import { session, week } from '../checks/analysis-fixture.ts';

/** The week with a stretch awake of two hours within the third night. */
function woken(told: Partial<Period> = {}) {
  const analysis = week();
  const stand = analysis.stands[3];
  const at = analysis.periods.findIndex(({ kind, end }) => kind === 'asleep' && end === stand.end);
  const asleep = analysis.periods[at];
  const start = asleep.start + 3600;
  const awake: Period = { ...asleep, kind: 'awake', start, end: start + 7200, chargeOutAh: 2, ...told };
  const periods = analysis.periods.toSpliced(at, 1, { ...asleep, end: awake.start }, awake, {
    ...asleep,
    start: awake.end,
  });
  return { analysis: { ...analysis, periods }, awake };
}

it('tells settlings and wakes apart, with their charge', () => {
  const { analysis, awake } = woken();
  const found = awakeStretches(analysis, session());
  expect(found.filter(({ after }) => after === 'wake')).toMatchObject([
    { start: awake.start, seconds: 7200, chargeAh: 2 },
  ]);
  expect(found.filter(({ after }) => after === 'key-off').length).toBe(analysis.stands.length - 1);
});

it('leaves out what charged, and what draws no more than a sleeping vehicle may', () => {
  const wakes = (told: Partial<Period>) =>
    awakeStretches(woken(told).analysis, session()).filter(({ after }) => after === 'wake');
  expect(wakes({ chargeInAh: 1 })).toEqual([]);
  // 2 h at 50 mA, the limit.
  expect(wakes({ chargeOutAh: 0.1 })).toEqual([]);
});
