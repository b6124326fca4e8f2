import { expect, it } from 'vitest';
import { freezeRisks } from '../../src/measures/freeze-risks.ts';
import { session, week } from '../checks/analysis-fixture.ts';
import { withTiles } from '../checks/tile-story.ts';

const risks = (restV: number, celsius: number) => {
  const analysis = week({ restV, temperatureC: celsius });
  return freezeRisks(
    withTiles(analysis, () => ({ v: restV, i: -0.02, temp: celsius }), 600),
    session(),
  );
};

it('gives each night its cold and the freezing point of the charge that it rested at', () => {
  const found = risks(12.62, -20);
  expect(found).toHaveLength(week().stands.length);
  for (const { cold, freezesC, coldestC, warmestC, U } of found) {
    expect(cold.value).toBeCloseTo(-20, 6);
    expect(freezesC).toBeGreaterThanOrEqual(coldestC);
    expect(freezesC).toBeLessThanOrEqual(warmestC);
    expect(U).toBeGreaterThanOrEqual((warmestC - coldestC) / 2);
  }
});

/** US Army TM 5-3820-256-24-4, Table 2 (seen): −59.5 °C full, −26.1 °C at half, −9.4 °C empty. */
it('a full battery freezes far below an empty one', () => {
  expect(risks(12.75, -20)[3].freezesC).toBeLessThan(-40);
  const empty = risks(11.7, -20)[3];
  expect(empty.warmestC).toBeGreaterThan(-12);
  expect(empty.freezesC).toBeGreaterThan(-20);
});

it('without a temperature there is none', () => {
  const analysis = week({ temperature: false });
  expect(
    freezeRisks(
      withTiles(analysis, () => ({ v: 12.6, i: -0.02 }), 600),
      session(),
    ),
  ).toEqual([]);
});
