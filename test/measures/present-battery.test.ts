/** A battery that was changed while the vehicle was logged: said by a note, and seen in a loss of supply. */
import { expect, test } from 'vitest';
import type { Analysis, Period } from '../../src/analysis/model.ts';
import { batteryChange, formerBattery, presentBattery } from '../../src/measures/present-battery.ts';
import { session, week } from '../checks/analysis-fixture.ts';

const quiet = week();
const middle = quiet.start + (quiet.end - quiet.start) / 2;
const off: Period = {
  kind: 'disconnected',
  start: middle,
  end: middle + 840,
  evidence: [],
  certainty: 1,
  chargeInAh: 0,
  chargeOutAh: 0,
};
const analysis: Analysis = { ...quiet, periods: [...quiet.periods, off].sort((a, b) => a.start - b.start) };
const noted = (text: string, at = middle) => ({ ...session(), notes: [{ atMs: at * 1000, text }] });

test('is known by a note in English or German and a loss of supply near to it', () => {
  for (const text of [
    'Battery replaced by a new one',
    'Neue Batterie eingebaut',
    'Batterie gewechselt',
    'new battery fitted',
  ])
    expect(batteryChange(analysis, noted(text))).toMatchObject({ start: middle });
});

test('is not made up of a loss alone, a note alone, or a note that says otherwise', () => {
  expect(batteryChange(analysis, session())).toBeNull();
  expect(batteryChange(quiet, noted('Battery replaced'))).toBeNull();
  expect(batteryChange(analysis, noted('Battery not replaced yet'))).toBeNull();
  expect(batteryChange(analysis, noted('Battery replaced', middle - 5 * 86_400))).toBeNull();
  expect(batteryChange(analysis, noted('Tracker replaced'))).toBeNull();
});

test('parts what each battery showed', () => {
  const changed = noted('Battery replaced');
  const [before, after] = [formerBattery(analysis, changed), presentBattery(analysis, changed)];
  expect(before?.stands.every(({ end }) => end <= middle)).toBe(true);
  expect(after.stands.every(({ start }) => start >= middle)).toBe(true);
  expect(after.cranks.every(({ at }) => at > middle)).toBe(true);
  expect(presentBattery(analysis, session())).toBe(analysis);
});
