import { expect, it } from 'vitest';
import { fedS } from '../../src/measures/fed.ts';
import { week } from '../checks/analysis-fixture.ts';

it('counts what of a charger lies within the stand', () => {
  const analysis = week({ chargerAh: 5 });
  const charger = analysis.periods.find(({ kind }) => kind === 'on-charger');
  const last = analysis.stands.at(-1);
  if (!charger || !last) throw new Error('no charger');
  expect(fedS(analysis, last)).toBeCloseTo(charger.end - charger.start, 6);
  expect(fedS(analysis, { start: charger.start + 600, end: charger.end })).toBeCloseTo(
    charger.end - charger.start - 600,
    6,
  );
  expect(fedS(analysis, analysis.stands[0])).toBe(0);
});
