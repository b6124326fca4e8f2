/** A lithium battery that its own management switched off: seen, told when and for how long, and not made up. */
import { expect, test } from 'vitest';
import { cutOff } from '../../src/measures/supply-stories.ts';
import { analysed, log, sessionWith, stretch } from '../analysis/blocks.ts';

const LITHIUM = { battery: { chemistry: 'lfp', capacityAh: 20 } } as const;
const lithium = sessionWith(LITHIUM);
const STEP = 10;
const rest = (hours: number, v: number, i = -0.3) => stretch(hours * 3600, STEP, { v, i });
const off = (hours: number) => stretch(hours * 3600, STEP, { v: 0.1, i: 0 });
const found = (...parts: readonly ReturnType<typeof rest>[]) => {
  const analysis = analysed(log(parts), LITHIUM);
  const cut = cutOff(analysis, lithium);
  return (
    cut && { ...cut, atS: cut.cutT - analysis.start, backS: cut.backT === null ? null : cut.backT - analysis.start }
  );
};

test('a stand that ends at nought with hardly any charge left, and whether it came back', () => {
  expect(found(rest(6, 13.1), rest(2, 12.4), off(20))).toMatchObject({
    cuts: 1,
    lastV: 12.4,
    backS: null,
    dark: false,
  });
  const back = found(rest(6, 13.1), rest(2, 12.4), off(20), stretch(4 * 3600, STEP, { v: 13.9, i: 8 }), rest(9, 13.3));
  expect(back).toMatchObject({ cuts: 1, backByCharge: true });
  expect(back?.atS).toBeCloseTo(8 * 3600, -2);
  expect(back?.backS).toBeCloseTo(28 * 3600, -2);
});

test('what holds the wires meanwhile is no battery that came back', () => {
  const sun = [off(10), rest(8, 13.9, 0), off(10), rest(8, 13.9, 0)];
  expect(found(rest(6, 13.1), rest(2, 12.4), ...sun)).toMatchObject({
    cuts: 1,
    cutS: expect.closeTo(36 * 3600, -3),
    backS: null,
  });
});

test('several are counted', () => {
  const again = [rest(3, 12.6), off(2), rest(3, 12.5), off(5), stretch(3600, STEP, { v: 13.9, i: 8 })];
  expect(found(rest(6, 13.1), ...again)).toMatchObject({ cuts: 2, lastV: 12.6, backByCharge: true });
});

test('a battery that still had charge, a moment, and another chemistry are no cut-off', () => {
  expect(found(rest(8, 13.2), off(20), rest(8, 13.2))).toBeNull();
  expect(found(rest(8, 12.5), off(0.05), rest(8, 12.5))).toBeNull();
  const lead = sessionWith();
  expect(cutOff(analysed(log([rest(8, 12), off(20)])), lead)).toBeNull();
});
