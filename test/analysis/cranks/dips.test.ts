import { describe, expect, it } from 'vitest';
import { dipsOf, type Usual } from '../../../src/analysis/cranks/dips.ts';
import { sessionWith } from '../blocks.ts';

const usual = (change: Partial<Usual> = {}): Usual => ({
  reference: 12.6,
  recent: 12.6,
  hasCurrent: true,
  leastBeforeA: () => 0,
  ...change,
});
const current = (rangeA: number) =>
  ({ columns: { current: { name: 'a', unit: 'A', positive: 'charging', rangeA } } }) as const;

describe.each([
  [12, 1],
  [24, 2],
  [6, 0.5],
] as const)('at %i V', (systemV, scale) => {
  const dips = dipsOf(sessionWith({ vehicle: { systemV } }));
  const at = (v: number) => v * scale;
  const before = usual({ reference: at(12.6), recent: at(12.6) });

  it('a crank begins with fifty amperes that pull the voltage down, whatever the sign', () => {
    expect(dips.begins(at(11), -180, before)).toBe(true);
    expect(dips.begins(at(11), 180, before)).toBe(true);
    expect(dips.begins(at(12.3), -40, before)).toBe(false);
    // A charger gives as much, and lifts it.
    expect(dips.begins(at(13.5), 60, before)).toBe(false);
  });

  it('a dip that no current explains is a starter whose current goes round the sensor', () => {
    expect(dips.isUnseen(at(11.5), -1, before)).toBe(true);
    expect(dips.isUnseen(at(12.3), -1, before)).toBe(false);
  });

  it('without current the dip stands alone', () => {
    const blind = usual({ ...before, hasCurrent: false });
    expect(dips.begins(at(12.3), Number.NaN, blind)).toBe(true);
    expect(dips.begins(at(12.45), Number.NaN, blind)).toBe(false);
  });
});

it('a worn battery gives way to a draw that is seen', () => {
  const { isUnexplained } = dipsOf(sessionWith());
  // 30 A at 20 mΩ explain 0.6 V of the fall.
  expect(isUnexplained(11.7, -30, 12.6, usual())).toBe(false);
  expect(isUnexplained(11.5, -30, 12.6, usual())).toBe(true);
  // But not where they had been drawn before.
  expect(isUnexplained(11.7, -30, 12.6, usual({ leastBeforeA: () => 30 }))).toBe(true);
});

it('a sensor whose range ends below a starter’s draw says nothing at its end', () => {
  const small = dipsOf(sessionWith(current(30)));
  expect(small.known(-30)).toBeNaN();
  expect(small.known(-10)).toBe(-10);
  expect(small.deepA).toBeLessThan(30);
  expect(dipsOf(sessionWith(current(500))).known(-499)).toBe(-499);
});

it('a crank is over where the draw falls well below its level', () => {
  const dips = dipsOf(sessionWith());
  const held = { before: 12.6, level: 200, most: 400, sign: -1, byVoltage: false };
  expect(dips.goesOn(10.5, -180, held, usual())).toBe(true);
  expect(dips.goesOn(12.2, -60, held, usual())).toBe(false);
  // A charge that follows is none.
  expect(dips.goesOn(14, 180, held, usual())).toBe(false);
});
