import { describe, expect, it } from 'vitest';
import { analysed, log, noisy, START, type Stretch, stretch } from '../blocks.ts';
import {
  asleep,
  crank,
  draw,
  drive,
  keyOn,
  OHM,
  OPEN_V,
  reversed,
  running,
  settling,
  starterA,
  withoutCurrent,
} from '../vehicle.ts';

const NIGHT_S = 600;
const cranksOf = (stretches: readonly Stretch[], powertrain: 'combustion' | 'hybrid' | 'electric' = 'combustion') =>
  analysed(log(stretches), { vehicle: { powertrain } }).cranks;
const oneStart = (stepS: number, seconds = 600) => [asleep(NIGHT_S, stepS), ...drive(seconds, stepS)];
/** Key-on is 6 s. */
const CRANK_AT = START + NIGHT_S + 6;

describe('one start', () => {
  it.each([1, 0.1, 0.02, 0.01])('is found at %d s a row, where it was and no more', (stepS) => {
    const cranks = cranksOf(oneStart(stepS));
    expect(cranks).toHaveLength(1);
    expect(Math.abs(cranks[0].at - CRANK_AT)).toBeLessThanOrEqual(stepS);
    expect(Math.abs(cranks[0].seconds - 1.2)).toBeLessThanOrEqual(Math.max(0.1, 2 * stepS));
    expect(cranks[0].started).toBe(true);
  });

  it.each([0.1, 0.02, 0.01])('is measured at %d s a row: plateau, peak, resistance', (stepS) => {
    const [found] = cranksOf(oneStart(stepS));
    const rows = Array.from({ length: Math.round(1.2 / stepS) }, (_, k) => k * stepS);
    const settled = rows.filter((s) => s >= 0.3);
    const plateauV = settled.reduce((sum, s) => sum + OPEN_V - OHM * starterA(s), 0) / settled.length;
    expect(found.voltsCranking?.value).toBeCloseTo(plateauV, 1);
    expect(found.ampsPeak).toBeCloseTo(600, 6);
    expect(found.voltsMin).toBeCloseTo(OPEN_V - OHM * 600, 6);
    expect(Math.abs((found.resistanceOhm?.value ?? 0) - OHM)).toBeLessThan(0.0002);
  });

  it('gives no plateau and no resistance where a log of 1 Hz cannot show them', () => {
    const [found] = cranksOf(oneStart(1));
    expect([found.voltsCranking, found.resistanceOhm]).toEqual([null, null]);
  });

  it('is found on a lithium battery, which rests as high as others are charged', () => {
    const light = (amps: (s: number) => number, seconds: number) =>
      stretch(seconds, 0.05, { v: (s) => 13.35 - 0.009 * amps(s), i: (s) => -amps(s) });
    const start = [light(() => 0.01, NIGHT_S), light((s) => 0.3 * starterA(s), 0.8), running(600, 0.05)];
    const cranksOn = (chemistry: 'lfp' | 'agm') => analysed(log(start), { battery: { chemistry } }).cranks;
    expect(cranksOn('lfp').map(({ at, started }) => ({ at, started }))).toEqual([
      { at: START + NIGHT_S, started: true },
    ]);
    // A lead battery at that voltage is being charged: then it was steering or brakes.
    expect(cranksOn('agm')).toEqual([]);
  });

  it('is found by its dip where the sensor’s range ends below a starter’s draw', () => {
    const clipped = oneStart(0.05).map((part): Stretch => {
      const { i } = part;
      return { ...part, i: (s, n) => Math.max(-50, typeof i === 'function' ? i(s, n) : (i ?? 0)) };
    });
    const current = { name: 'a', unit: 'A', positive: 'charging', rangeA: 50 } as const;
    const { cranks } = analysed(log(clipped), { columns: { current } });
    expect(cranks).toHaveLength(1);
    expect(cranks[0].started).toBe(true);
    expect(cranks[0].voltsCranking?.value).toBeCloseTo(OPEN_V - OHM * 180, 0);
    // What the sensor could not show is not told.
    expect([cranks[0].ampsPeak, cranks[0].resistanceOhm]).toEqual([null, null]);
  });

  it('reads the same with the sensor turned round', () => {
    const [straight] = cranksOf(oneStart(0.05));
    const turned = analysed(log(reversed(oneStart(0.05))));
    expect(turned.direction.flipped).toBe(true);
    const { wave, ...rest } = turned.cranks[0];
    const { wave: straightWave, ...straightRest } = straight;
    expect(rest).toEqual(straightRest);
    expect(wave.i).toEqual(straightWave.i);
  });

  it.each([1, 0.1, 0.02])('is found at %d s a row from voltage alone', (stepS) => {
    const cranks = cranksOf(withoutCurrent(oneStart(stepS)));
    expect(cranks).toHaveLength(1);
    expect(Math.abs(cranks[0].at - CRANK_AT)).toBeLessThanOrEqual(Math.max(0.1, stepS));
    expect([cranks[0].ampsPeak, cranks[0].resistanceOhm]).toEqual([null, null]);
  });

  it('begins with the starter, not with the glow plugs before it', () => {
    const glow = draw(noisy(63, 0.1), 6, 0.05);
    const cranks = cranksOf([asleep(NIGHT_S, 0.05), glow, crank(1.2, 0.05), running(300, 0.05)]);
    expect(cranks).toHaveLength(1);
    expect(Math.abs(cranks[0].at - CRANK_AT)).toBeLessThanOrEqual(0.1);
    expect(Math.abs(cranks[0].seconds - 1.2)).toBeLessThanOrEqual(0.15);
  });

  it('is told from glow plugs that go on through it and after it', () => {
    const glowA = (s: number) => 85 * Math.exp(-s / 12);
    const glow = (from: number, seconds: number, starter: (s: number) => number) =>
      draw((s) => glowA(from + s) + starter(s), seconds, 0.01);
    const stretches = [
      asleep(NIGHT_S, 0.1),
      glow(0, 3, () => 0),
      glow(3, 0.8, starterA),
      glow(3.8, 1, () => 0),
      running(300, 0.1),
    ];
    const cranks = cranksOf(stretches);
    expect(cranks).toHaveLength(1);
    expect(Math.abs(cranks[0].at - (START + NIGHT_S + 3))).toBeLessThanOrEqual(0.05);
    expect(Math.abs(cranks[0].seconds - 0.8)).toBeLessThanOrEqual(0.1);
  });

  it('is not the longer for glow plugs before it, nor for all that draws on until the generator takes over', () => {
    const plugs = draw(
      noisy((s) => 92 - 4 * s, 0.3),
      6,
      0.1,
    );
    const drawsOn = draw(noisy(95, 4), 3, 0.1);
    const [found, ...more] = cranksOf([asleep(NIGHT_S, 0.1), plugs, crank(1.2, 0.1), drawsOn, running(600, 0.1)]);
    expect(more).toEqual([]);
    expect(Math.abs(found.seconds - 1.2)).toBeLessThan(0.25);
    // 180 A at 6 mΩ.
    expect(found.voltsCranking?.value).toBeCloseTo(OPEN_V - OHM * 180, 1);
  });

  it('is one also where nothing charges after it, and all that the engine asks for goes on for minutes', () => {
    const day = [asleep(NIGHT_S, 0.1), keyOn(6, 0.1), crank(1.2, 0.1), draw(noisy(69, 2), 340, 0.1), ...settling(1)];
    const [found, ...more] = cranksOf(day);
    expect(more).toEqual([]);
    expect(Math.abs(found.at - CRANK_AT)).toBeLessThan(0.2);
    expect(Math.abs(found.seconds - 1.2)).toBeLessThan(0.25);
    // A heater of as many amperes is none.
    expect(cranksOf([asleep(NIGHT_S, 0.1), keyOn(6, 0.1), draw(noisy(118, 0.5), 90, 0.1), ...settling(1)])).toEqual([]);
  });

  it('is over when charging begins, however high the current', () => {
    const charge = stretch(300, 0.05, { v: noisy(14.1, 0.02), i: noisy((s) => 90 * Math.exp(-s / 60), 0.5) });
    const cranks = cranksOf([asleep(NIGHT_S, 0.05), keyOn(6, 0.05), crank(1.2, 0.05), charge]);
    expect(cranks).toHaveLength(1);
    expect(Math.abs(cranks[0].seconds - 1.2)).toBeLessThanOrEqual(0.1);
    expect(cranks[0].started).toBe(true);
  });
});

describe('several attempts', () => {
  const failed = [crank(3, 0.05), keyOn(5, 0.05)];

  it('are each one crank; only the last one started', () => {
    const cranks = cranksOf([
      asleep(NIGHT_S, 0.05),
      keyOn(6, 0.05),
      ...failed,
      ...failed,
      crank(1.2, 0.05),
      running(300, 0.05),
    ]);
    expect(cranks.map((found) => Math.round(found.at - CRANK_AT))).toEqual([0, 8, 16]);
    expect(cranks.map((found) => found.started)).toEqual([false, false, true]);
  });

  it('that all fail make no drive', () => {
    const made = analysed(
      log([asleep(NIGHT_S, 0.05), keyOn(6, 0.05), ...failed, ...failed, ...settling(0.1), asleep(NIGHT_S, 0.1)]),
    );
    expect(made.cranks.map((found) => found.started)).toEqual([false, false]);
    expect(made.drives).toEqual([]);
  });

  it('from voltage alone are told apart as well', () => {
    const cranks = cranksOf(
      withoutCurrent([asleep(NIGHT_S, 0.05), keyOn(6, 0.05), ...failed, crank(1.2, 0.05), running(300, 0.05)]),
    );
    expect(cranks.map((found) => Math.round(found.at - CRANK_AT))).toEqual([0, 8]);
    expect(cranks.map((found) => found.started)).toEqual([false, true]);
  });

  it('from voltage alone: a crank soon after the engine stopped is not lost in the fall of the voltage', () => {
    const cranks = cranksOf(
      withoutCurrent([
        asleep(NIGHT_S, 0.05),
        ...drive(300, 0.05),
        keyOn(20, 0.05),
        crank(1.2, 0.05),
        running(300, 0.05),
      ]),
    );
    expect(cranks.map((found) => Math.round(found.at - CRANK_AT))).toEqual([0, 321]);
  });
});

describe('no crank is made of', () => {
  const onRoad = (amps: number, seconds: number) =>
    stretch(seconds, 0.05, { v: 14.2 - 0.006 * amps, i: noisy(-amps, 0.5) });

  it.each([
    ['steering at full lock', onRoad(95, 0.6)],
    ['a long steering', onRoad(80, 3)],
    ['a stop with brakes and lights', onRoad(70, 8)],
  ])('%s while the engine runs', (_, peak) => {
    const stretches = [...oneStart(0.05, 120), peak, running(60, 0.05), peak, running(60, 0.05)];
    expect(cranksOf(stretches)).toHaveLength(1);
    expect(cranksOf(withoutCurrent(stretches))).toHaveLength(1);
  });

  it('glow plugs, a fan, or a heater on their own', () => {
    for (const [amps, seconds] of [
      [65, 8],
      [30, 60],
      [110, 90],
    ]) {
      const load = [asleep(NIGHT_S, 0.1), draw(noisy(amps, 0.2), seconds, 0.1), asleep(NIGHT_S, 0.1)];
      expect(cranksOf(load), `${amps} A for ${seconds} s`).toEqual([]);
    }
  });

  it('the loads of a vehicle without a starter', () => {
    const load = [asleep(NIGHT_S, 0.05), keyOn(3, 0.05), draw(noisy(140, 1), 1, 0.05), running(300, 0.05)];
    expect(cranksOf(load, 'electric')).toEqual([]);
    expect(cranksOf(load, 'hybrid')).toEqual([]);
    expect(cranksOf(oneStart(0.05), 'electric')).toEqual([]);
  });

  it('a hybrid has its cranks all the same where a real starter turns', () => {
    expect(cranksOf(oneStart(0.05), 'hybrid')).toHaveLength(1);
  });
});

describe('a logger that loses its own supply, voltage alone', () => {
  const dead = (seconds: number) => stretch(seconds, 0.07, { v: (_, n) => [0.3, 5.3, 2.0, 0.3][n % 4] });
  const climbing = stretch(1, 0.07, { v: (s) => 12.6 - 6 * Math.exp(-s / 0.3) });
  const rest = (seconds: number) => stretch(seconds, 0.07, { v: 12.6 });

  it('makes no crank of going and coming back', () => {
    expect(cranksOf([rest(60), dead(20), climbing, rest(60), dead(3), climbing, rest(60)])).toEqual([]);
  });

  it('hides no crank soon after it is back', () => {
    const start = withoutCurrent([crank(1.4, 0.07), running(60, 0.07)]);
    const cranks = cranksOf([rest(60), dead(20), climbing, rest(2), ...start]);
    expect(cranks).toHaveLength(1);
    expect(Math.abs(cranks[0].at - (START + 83))).toBeLessThan(0.2);
  });

  it('is told as disconnected, not as a stand or a drive', () => {
    const { periods } = analysed(log([rest(600), dead(120), climbing, rest(600)]));
    expect(periods.map((period) => period.kind)).toContain('disconnected');
    const lost = periods.filter((period) => period.kind === 'disconnected');
    expect(lost.reduce((sum, period) => sum + period.end - period.start, 0)).toBeCloseTo(120, -1);
  });
});
