import { describe, expect, it } from 'vitest';
import { POOR_SENSOR, remoteWakes } from '../../src/demo/parts.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import { randomScenario } from '../sweep/vehicles.ts';
import { HOUR, IDEAL_SENSOR, type Log, logOf, SMALL } from './small-scenario.ts';

/** Charge by the trapezium rule over the log, Ah, apart by sign. */
function chargeOf({ t, i }: Log): { inAh: number; outAh: number } {
  let [inAh, outAh] = [0, 0];
  for (let k = 1; k < t.length; k++) {
    const ah = (((i[k] + i[k - 1]) / 2) * (t[k] - t[k - 1])) / 3600;
    if (ah > 0) inAh += ah;
    else outAh -= ah;
  }
  return { inAh, outAh };
}

const at = (log: Log, seconds: number) => log.t.findIndex((t) => t >= SMALL.start + seconds);

describe('simulated vehicle', () => {
  it('gives the same log again, and another for another stream', () => {
    const once = logOf({ ...SMALL, sensor: POOR_SENSOR });
    expect(logOf({ ...SMALL, sensor: POOR_SENSOR })).toEqual(once);
    expect(logOf({ ...SMALL, sensor: POOR_SENSOR, stream: 43 }).i).not.toEqual(once.i);
  });

  it('keeps the truth back until the log has been read', () => {
    const simulation = simulate(SMALL);
    expect(() => simulation.truth()).toThrow(/only after all samples/);
    for (const _ of simulation.samples);
    expect(simulation.truth().drives).toHaveLength(1);
  });

  it('adds up the same charge as a fast, faultless log of it', () => {
    const log = logOf({ ...SMALL, seconds: 4 * HOUR, logging: { stepS: 0.02 } });
    const { inAh, outAh } = chargeOf(log);
    expect(inAh / log.truth.totals.chargeInAh).toBeCloseTo(1, 2);
    expect(outAh / log.truth.totals.chargeOutAh).toBeCloseTo(1, 2);
  });

  it('tells a truth that does not depend on how often the log was written', () => {
    const slow = logOf({ ...SMALL, logging: { stepS: 10 } }).truth;
    const fast = logOf({ ...SMALL, logging: { stepS: 0.5 } }).truth;
    expect(slow.parked.map((p) => p.timeToSleepS)).toEqual(fast.parked.map((p) => p.timeToSleepS));
    expect(slow.totals.chargeInAh).toBeCloseTo(fast.totals.chargeInAh, 2);
    expect(slow.totals.chargeOutAh).toBeCloseTo(fast.totals.chargeOutAh, 2);
  });

  it('covers the log with true periods, end to end', () => {
    for (const number of [1, 5, 9, 14]) {
      const scenario = randomScenario(number, { days: 1, stepS: 10 });
      const { periods } = logOf(scenario).truth;
      expect(periods[0].start).toBe(scenario.start);
      expect(periods.at(-1)?.end).toBe(scenario.start + scenario.seconds);
      for (let k = 1; k < periods.length; k++) {
        expect(periods[k].start).toBe(periods[k - 1].end);
        expect(periods[k].kind).not.toBe(periods[k - 1].kind);
      }
    }
  });

  it('dips to its lowest in the inrush and holds a plateau after it', () => {
    const log = logOf({ ...SMALL, logging: { stepS: 1, crank: { stepS: 0.002, beforeS: 1, afterS: 2 } } });
    const [crank] = log.truth.cranks;
    const from = log.t.findIndex((t) => t >= crank.at);
    const to = log.t.findIndex((t) => t >= crank.at + crank.seconds);
    const volts = log.v.slice(from, to);
    const lowest = Math.min(...volts);
    expect(lowest).toBeCloseTo(crank.voltsMin, 1);
    expect(log.t[from + volts.indexOf(lowest)] - crank.at).toBeLessThan(0.1);
    const plateau = volts.filter((_, k) => log.t[from + k] - crank.at >= 0.3);
    const mean = plateau.reduce((sum, v) => sum + v, 0) / plateau.length;
    expect(mean).toBeCloseTo(crank.voltsCranking as number, 1);
    expect(mean).toBeGreaterThan(lowest + 1);
    expect(crank.voltsBefore).toBeGreaterThan(mean + 1);
  });

  it('shows the resistance that it has', () => {
    const log = logOf({ ...SMALL, logging: { stepS: 1, crank: { stepS: 0.002, beforeS: 1, afterS: 2 } } });
    const [crank] = log.truth.cranks;
    const before = log.t.findIndex((t) => t >= crank.at) - 1;
    const lowest = log.v.indexOf(Math.min(...log.v));
    const ohm = (log.v[before] - log.v[lowest]) / (log.i[before] - log.i[lowest]);
    expect(ohm).toBeGreaterThanOrEqual(crank.resistanceOhm * 0.98);
    expect(ohm).toBeLessThan(crank.resistanceHighOhm);
  });

  it('charges at the regulated voltage with a current that falls', () => {
    const log = logOf(SMALL);
    const begin = at(log, 2 * HOUR + 300);
    const end = at(log, 2 * HOUR + 1700);
    expect(log.v[begin]).toBeGreaterThan(14.1);
    expect(log.v[end]).toBeGreaterThan(14.1);
    expect(log.i[end]).toBeLessThan(log.i[begin]);
    expect(log.i[end]).toBeGreaterThan(0);
  });

  it('sleeps when the last stage is over, at the draw that the scenario says', () => {
    const log = logOf(SMALL);
    const stand = log.truth.parked[1];
    expect(stand.timeToSleepS).toBe(927);
    const asleep = at(log, stand.start - SMALL.start + 930);
    expect(log.i[asleep]).toBeCloseTo(-0.025, 6);
    expect(log.i[asleep - 10]).toBeLessThan(-0.3);
    expect(stand.sleepDrawA).toBeCloseTo(0.025, 6);
  });

  it('wakes with its channel, and counts the charge above the sleeping level', () => {
    const scenario: Scenario = {
      ...SMALL,
      channels: [{ label: 'Tracker supply', measures: 'supply' }],
      wakes: [
        { timing: { everyS: 1800, jitterS: 0 }, stages: [{ amps: 2, seconds: 90 }], channel: 0 },
        remoteWakes([5 * HOUR + 500]),
      ],
    };
    const log = logOf(scenario);
    const tied = log.truth.wakes.filter((wake) => wake.channels.includes('Tracker supply'));
    expect(tied.length).toBeGreaterThan(10);
    expect(log.truth.wakes.length).toBe(tied.length + 1);
    for (const wake of tied) {
      expect(wake.chargeAh).toBeCloseTo((2 * 90) / 3600, 6);
      const k = log.t.findIndex((t) => t >= wake.start + 10);
      expect(log.ch[0][k]).toBeGreaterThan(11);
    }
    const quiet = log.t.findIndex((t) => t >= tied[3].start - 60);
    expect(log.ch[0][quiet]).toBeLessThan(0.1);
  });

  it('lets lamp pulses average out over the aperture of the sensor', () => {
    const lamp = { amps: 0.02, onS: 0.06, everyS: 1.37 };
    const spread = (apertureS: number) => {
      const log = logOf({ ...SMALL, drives: [], seconds: 600, lamp, sensor: { ...IDEAL_SENSOR, apertureS } });
      return Math.max(...log.i.slice(5)) - Math.min(...log.i.slice(5));
    };
    expect(spread(0.01)).toBeCloseTo(0.02, 3);
    expect(spread(1)).toBeLessThan(0.0013);
  });

  it('reads what a faulty sensor would', () => {
    const reading = (differs: Partial<Scenario['sensor']>) =>
      logOf({ ...SMALL, drives: [], seconds: 60, sensor: { ...IDEAL_SENSOR, ...differs } }).i[30];
    expect(reading({})).toBeCloseTo(-0.025, 6);
    expect(reading({ reversed: true })).toBeCloseTo(0.025, 6);
    expect(reading({ bypass: 0.4 })).toBeCloseTo(-0.015, 6);
    expect(reading({ offsetA: 0.01 })).toBeCloseTo(-0.015, 6);
    expect(reading({ resolutionA: 0.02 })).toBeCloseTo(-0.02, 6);
    expect(reading({ rangeA: 0.02 })).toBeCloseTo(-0.02, 6);
    expect(reading({ hasCurrent: false })).toBeNaN();
  });

  it('leaves gaps out of the log and of the truth', () => {
    const gap = { from: 2 * HOUR, to: 3 * HOUR };
    const log = logOf({ ...SMALL, logging: { stepS: 1, gaps: [gap] } });
    expect(log.t.some((t) => t >= SMALL.start + gap.from && t < SMALL.start + gap.to)).toBe(false);
    expect(log.truth.totals.chargeInAh).toBe(0);
    expect(log.truth.cranks).toHaveLength(0);
    expect(log.truth.periods.find((p) => p.kind === 'no-data')?.start).toBe(SMALL.start + gap.from);
  });

  it('reads nothing while the battery is off, and boots afterwards', () => {
    const off = { from: 4 * HOUR, to: 4 * HOUR + 900, boot: [{ amps: 3, seconds: 120 }] };
    const log = logOf({ ...SMALL, disconnected: [off] });
    expect(log.v[at(log, off.from + 100)]).toBe(0);
    expect(log.i[at(log, off.from + 100)]).toBe(0);
    expect(log.i[at(log, off.to + 60)]).toBeCloseTo(-3.025, 3);
    expect(log.truth.periods.find((p) => p.kind === 'disconnected')?.end).toBe(SMALL.start + off.to);
  });

  it('merges a parked charge into no wake', () => {
    const topUp = { from: 5 * HOUR, to: 6 * HOUR, volts: 14.2, maxA: 20, amps: 4 };
    const log = logOf({ ...SMALL, powertrain: 'electric', topUps: [topUp] });
    expect(log.i[at(log, topUp.from + 600)]).toBeGreaterThan(3);
    expect(log.truth.wakes).toHaveLength(0);
    expect(log.truth.topUps).toEqual([{ start: SMALL.start + topUp.from, end: SMALL.start + topUp.to }]);
  });
});
