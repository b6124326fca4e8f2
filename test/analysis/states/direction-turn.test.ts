import { describe, expect, it } from 'vitest';
import type { Period } from '../../../src/analysis/model.ts';
import { analysed, hole, log, type Stretch } from '../blocks.ts';
import { asleep, drive, reversed, settling } from '../vehicle.ts';

const day = (n: number): Stretch[] =>
  Array.from({ length: n }, () => [asleep(3600, 1), ...drive(1200, 1, 0.05), ...settling(1), asleep(3600, 1)]).flat();
const kindAndTimes = ({ kind, start, end }: Period) => ({ kind, start, end });
const lengthS = (stretches: readonly Stretch[]) => stretches.reduce((sum, { seconds }) => sum + seconds, 0);

describe('a sensor that was turned round in mid-log', () => {
  const [before, after] = [day(2), day(3)];
  const straight = analysed(log([...before, hole(200), ...after]));

  it.each([
    ['after', [...before, hole(200), ...reversed(after)]],
    ['before', [...reversed(before), hole(200), ...after]],
  ])('is put right in the half that speaks against the manifest: %s', (half, stretches) => {
    const turned = analysed(log(stretches));
    const at = straight.start + lengthS(before);
    const { start, end } = turned.direction.turned ?? { start: 0, end: 0 };
    // Within the gap that it was turned in, and to the end of its half.
    const within = half === 'after' ? start : end;
    expect(within).toBeGreaterThanOrEqual(at - 2);
    expect(within).toBeLessThanOrEqual(at + 202);
    expect(half === 'after' ? end : start).toBe(half === 'after' ? straight.end : straight.start);
    expect(turned.periods.map(kindAndTimes)).toEqual(straight.periods.map(kindAndTimes));
    expect(turned.cranks.map(({ wave }) => wave.i)).toEqual(straight.cranks.map(({ wave }) => wave.i));
    expect(turned.stands.map(({ sleepDrawA }) => sleepDrawA?.value)).toEqual(
      straight.stands.map(({ sleepDrawA }) => sleepDrawA?.value),
    );
    expect(turned.totals.chargeInAh).toBeCloseTo(straight.totals.chargeInAh, 9);
    expect(turned.totals.chargeOutAh).toBeCloseTo(straight.totals.chargeOutAh, 9);
  });

  it('without a gap is told from what a sleeping battery gives', () => {
    const { turned } = analysed(log([...before, ...reversed(after)])).direction;
    expect(Math.abs((turned?.start ?? 0) - straight.start - lengthS(before))).toBeLessThan(120);
  });

  it('that speaks both ways in one half is left alone, and so is one whose halves hold no start', () => {
    const mixed = [...before, ...reversed(day(1)), ...day(1), ...reversed(day(1))];
    expect(analysed(log(mixed)).direction).toMatchObject({ flipped: false, turned: null });
    const quiet = [asleep(7200, 1), ...reversed([asleep(7200, 1)])];
    expect(analysed(log(quiet)).direction).toMatchObject({ flipped: false, turned: null });
    expect(analysed(log(day(2))).direction.turned).toBeNull();
  });
});
