/** A circuit that holds a simulated vehicle awake after some key-offs must come out of the log, and no other one. */

import { describe, expect, test } from 'vitest';
import { createAnalyser } from '../../src/analysis/analyse.ts';
import { check } from '../../src/checks/circuit-link.ts';
import { drive, GOOD_SENSOR, QUICK_SETTLING } from '../../src/demo/parts.ts';
import type { ChannelSpec, Scenario } from '../../src/demo/scenario.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import { circuitLinks } from '../../src/measures/circuits/links.ts';
import { loadContent } from '../../src/node/content.ts';
import { buildReport } from '../../src/report/build-report.ts';
import { cleanLog, sessionFor } from './session-for.ts';

const HOUR = 3600;
const MIN = 60;
const TRIPS = 10;
const QUICK_S = QUICK_SETTLING.reduce((sum, stage) => sum + stage.seconds, 0);

/** A trip every seven hours; after every second one `held` keeps the vehicle awake. */
function scenarioWith(channels: readonly ChannelSpec[], held: Scenario['drives'][number]['held']): Scenario {
  return {
    stream: 4711,
    start: Date.UTC(2026, 2, 3, 6) / 1000,
    seconds: (7 * TRIPS + 8) * HOUR,
    powertrain: 'combustion',
    systemV: 12,
    battery: { chemistry: 'flooded', capacityAh: 70, charge: 0.9 },
    climate: { meanC: 10, swingC: 4, engineC: 20 },
    sleepA: 0.02,
    settling: QUICK_SETTLING,
    drives: Array.from({ length: TRIPS }, (_, k) =>
      drive(
        (1 + 7 * k) * HOUR,
        40 * MIN,
        k % 2 ? { held: held && { ...held, seconds: held.seconds + 5 * k * MIN } } : {},
      ),
    ),
    source: { volts: 14.3, maxA: 110, perC: -0.01, rippleV: 0.03, rippleA: 0.8, stepsA: 8 },
    wakes: [],
    channels,
    sensor: GOOD_SENSOR,
    logging: { stepS: 2 },
  };
}

const DECOY: ChannelSpec = {
  label: 'Radio',
  measures: 'supply',
  decoy: { timing: { meanEveryS: 1.5 * HOUR }, seconds: 25 * MIN },
};

function analysed(scenario: Scenario) {
  const session = sessionFor(scenario);
  const analyser = createAnalyser(session);
  for (const block of simulate(scenario).samples) analyser.push(block);
  return { analysis: analyser.finish(cleanLog([])), session };
}

describe('a circuit that holds the vehicle awake after every second key-off', () => {
  const held = { amps: 2.2, seconds: 70 * MIN, channel: 0 };
  const { analysis, session } = analysed(scenarioWith([{ label: 'Heater valve', measures: 'supply' }, DECOY], held));
  const [heater, radio] = circuitLinks(analysis, session).map((link) => link.settlings);

  test('goes with all slow settlings and no quick one, and hardly by chance', () => {
    expect(heater).toMatchObject({ slowWith: 5, slowSeen: 5, quickWith: 0, quickSeen: 5, chargeShare: 1 });
    // Of the 252 ways to choose five of ten key-offs one is as good.
    expect(heater?.chance).toBeCloseTo(1 / 252, 9);
  });

  test('leads: it is off when the shutdown begins', () => {
    expect(Math.abs((heater?.lagS ?? 0) + QUICK_S)).toBeLessThan(30);
  });

  test('leaves a busy circuit to chance', () => {
    expect(radio?.slowSeen).toBe(5);
    expect(radio?.chance).toBeGreaterThan(0.05);
  });

  test('is named, and told below the slow settlings', () => {
    expect(check.answer(analysis, session)).toMatchObject({
      status: 'fault',
      variant: 'settlings',
      facts: { channel: 'Heater valve', slowWith: 5, slowSeen: 5, quickWith: 0 },
    });
  });
});

describe('report.json', () => {
  const report = (channels: readonly ChannelSpec[]) => {
    const { analysis, session } = analysed(scenarioWith(channels, { amps: 2.2, seconds: 70 * MIN, channel: 0 }));
    return buildReport({ analysis, session, findings: [], language: 'en', version: '0', content: loadContent('en') });
  };

  test('has them beside the wakes', () => {
    const [heater] = report([{ label: 'Heater valve', measures: 'supply' }]).links;
    expect(heater).toMatchObject({ channel: 'Heater valve', wakes_with: 0, wakes_seen: 0, lag_s: null });
    expect(heater.settlings).toMatchObject({ slow_with: 5, slow_seen: 5, quick_with: 0, quick_seen: 5 });
    expect(heater.settlings?.chance).toBeCloseTo(1 / 252, 6);
    expect(heater.settlings?.lag_s).toBeLessThan(-600);
  });
});

test('a circuit that is on after every key-off tells nothing', () => {
  const blower: ChannelSpec = { label: 'Blower', measures: 'supply', afterRunS: 4 * MIN };
  const { analysis, session } = analysed(scenarioWith([blower], { amps: 2.2, seconds: 70 * MIN }));
  expect(circuitLinks(analysis, session)[0].settlings).toMatchObject({
    slowWith: 5,
    slowSeen: 5,
    quickWith: 5,
    quickSeen: 5,
    chance: 1,
  });
  expect(check.answer(analysis, session).status).not.toBe('fault');
});

describe('a circuit that is on for minutes after each key-off', () => {
  const MINUTES: ChannelSpec = { label: 'Heater valve', measures: 'supply', afterRunS: 4 * MIN };

  test('and in some for hours, exactly as long as the draw stays up, is linked by its length', () => {
    const { analysis, session } = analysed(scenarioWith([MINUTES], { amps: 2.2, seconds: 5 * HOUR, channel: 0 }));
    const [heater] = circuitLinks(analysis, session).map((link) => link.settlings);
    expect(heater).toMatchObject({ quickWith: 5 });
    expect(heater?.chance).toBeLessThan(0.001);
  });
});
