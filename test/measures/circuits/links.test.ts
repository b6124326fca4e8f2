import { describe, expect, test } from 'vitest';
import type { Analysis, Period, Stand, Wake } from '../../../src/analysis/model.ts';
import type { Tiles } from '../../../src/analysis/tiles/tiles.ts';
import { makeRandom } from '../../../src/demo/random.ts';
import type { Channel } from '../../../src/manifest/session.ts';
import { circuitLinks } from '../../../src/measures/circuits/links.ts';
import { session, week } from '../../checks/analysis-fixture.ts';

const HOUR = 3600;
const STEP_S = 2;
const random = makeRandom(31);
const CHANNEL: Channel = { name: 'in1_v', label: 'Tracker', unit: 'V', activeAboveV: 6, measures: 'supply' };

interface Span {
  readonly from: number;
  readonly to: number;
}

/** Spans of `lengthS`, one about every `everyS`. */
const spans = (hours: number, everyS: number, lengthS: number, jitterS = 25): Span[] => {
  const list: Span[] = [];
  for (let t = everyS; t < hours * HOUR - lengthS - 60; t += everyS + jitterS * random.normal())
    list.push({ from: t, to: t + lengthS });
  return list;
};
const shifted = (list: readonly Span[], beginS: number, endS = beginS): Span[] =>
  list.map(({ from, to }) => ({ from: from + beginS, to: to + endS }));

/** One stand of so many hours, with a tile each two seconds; the channel reads 12 V where it is on. */
function linkOf(hours: number, awake: readonly Span[], on: readonly Span[], channel = CHANNEL) {
  const n = Math.round((hours * HOUR) / STEP_S);
  const column = (of: (t: number) => number) => Float64Array.from({ length: n }, (_, k) => of(k * STEP_S));
  const isIn = (list: readonly Span[]) => {
    const flags = new Uint8Array(n);
    for (const { from, to } of list) flags.fill(1, Math.round(from / STEP_S), Math.round(to / STEP_S));
    return flags;
  };
  const onAt = isIn(on);
  const volts = Float64Array.from(onAt, (flag) => 12 * flag);
  const blank = column(() => Number.NaN);
  const tiles: Tiles = {
    n,
    t0: column((t) => t),
    t1: column((t) => t + STEP_S),
    rows: column(() => 1),
    v: column(() => 12.5),
    vMin: blank,
    vMax: blank,
    i: blank,
    iMin: blank,
    iMax: blank,
    iCov: blank,
    netAs: blank,
    jumpsAs2: blank,
    turnsAs2: blank,
    iRough: blank,
    vRough: blank,
    temp: blank,
    chMin: [volts],
    chMax: [volts],
  };
  const wakes = awake.map(({ from, to }): Wake => {
    const isOn = on.some((span) => span.from < to && span.to > from);
    return {
      start: from,
      seconds: to - from,
      peakA: 3,
      meanA: 2,
      chargeAh: (2 * (to - from)) / HOUR,
      stand: 0,
      channels: isOn ? [channel.label] : [],
    };
  });
  const [usual] = week().stands;
  const stand: Stand = { ...usual, start: 0, end: n * STEP_S };
  const asleep: Period = {
    kind: 'asleep',
    start: 0,
    end: stand.end,
    chargeInAh: 0,
    chargeOutAh: 0,
    evidence: [],
    certainty: 1,
  };
  const stepsS = { driving: STEP_S, parked: STEP_S, awake: STEP_S };
  const analysis: Analysis = { ...week(), tiles, periods: [asleep], stands: [stand], wakes, stepsS };
  const base = session();
  return circuitLinks(analysis, { ...base, log: { ...base.log, channels: [channel] } })[0];
}

describe('a circuit that goes with the wakes', () => {
  test('is linked, however regular both are', () => {
    const wakes = spans(40, 2220, 150);
    expect(linkOf(40, wakes, wakes)).toMatchObject({
      channel: 'Tracker',
      wakesWith: wakes.length,
      wakesSeen: wakes.length,
      chargeShare: 1,
    });
    // Turns by less than a minute, of 40 h, are as good.
    expect(linkOf(40, wakes, wakes).chance).toBeLessThan(0.003);
  });

  test('is linked where it leads or lags, and the lag is told', () => {
    const wakes = spans(40, 2220, 150);
    for (const [begin, end] of [
      [-20, -20],
      [8, -30],
    ]) {
      const link = linkOf(40, wakes, shifted(wakes, begin, end));
      expect(link.chance).toBeLessThan(0.003);
      expect(Math.abs((link.lagS ?? 0) - begin)).toBeLessThanOrEqual(STEP_S);
    }
  });

  test('is linked where it explains only half of them', () => {
    const wakes = spans(40, 2220, 150);
    const link = linkOf(
      40,
      wakes,
      wakes.filter((_, k) => k % 2 === 0),
    );
    expect(link.chance).toBeLessThan(0.003);
    expect(link.chargeShare).toBeCloseTo(0.5, 1);
  });
});

describe('chance', () => {
  test('explains a circuit that is on half of the time', () => {
    const wakes = spans(40, 2220, 150);
    const link = linkOf(40, wakes, spans(40, 400, 200));
    expect(link.wakesWith).toBeGreaterThan(0.4 * wakes.length);
    expect(link.chance).toBeGreaterThan(0.1);
  });

  test('names no more unrelated circuits than its share, also where both keep clocks that fit', () => {
    const chances = Array.from({ length: 24 }, (_, k) => {
      const wakes = spans(20, 2700, 150, 3);
      const everyS = 2700 / (1 + (k % 4));
      const on = spans(20, everyS, random.between(20, 0.5 * everyS), k % 2 ? 3 : 0.2 * everyS);
      return linkOf(20, wakes, shifted(on, random.between(0, 900))).chance;
    });
    expect(chances.filter((chance) => chance < 0.01).length).toBeLessThanOrEqual(1);
    expect(chances.filter((chance) => chance < 0.2).length).toBeLessThanOrEqual(10);
  });

  test('is all there is to one wake', () => {
    const [wake] = spans(2, HOUR, 100);
    expect(linkOf(20, [wake], [...spans(20, 3000, 100, 400)]).chance).toBeGreaterThan(0.05);
  });

  test('is certain for a circuit that is never on, or always', () => {
    const wakes = spans(20, 3000, 150);
    expect(linkOf(20, wakes, [])).toMatchObject({ wakesWith: 0, chance: 1, lagS: null });
    expect(linkOf(20, wakes, [{ from: 0, to: 20 * HOUR }])).toMatchObject({ wakesWith: wakes.length, chance: 1 });
  });
});

test('the same log gives the same chance', () => {
  const wakes = spans(20, 3000, 150);
  const on = spans(20, 1000, 300);
  expect(linkOf(20, wakes, on)).toEqual(linkOf(20, wakes, on));
});
