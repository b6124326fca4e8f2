/** Faults of sensor, wiring and battery put into a simulated vehicle: the checks must name them, and nothing else. */
import { describe, expect, it } from 'vitest';
import { createAnalyser } from '../../src/analysis/analyse.ts';
import { CHECKS } from '../../src/checks/registry.ts';
import { runChecks } from '../../src/checks/run.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import type { SampleBlock } from '../../src/log/block.ts';
import type { Session } from '../../src/manifest/session.ts';
import { randomScenario } from '../sweep/vehicles.ts';
import { cleanLog, sessionFor } from './session-for.ts';

const ASKED = [
  'deep-discharge',
  'freeze-risk',
  'battery-resistance',
  'battery-heat',
  'circuit-drop',
  'current-path',
  'current-zero',
  'current-range',
  'current-resolution',
  'charger-seen',
  'supply-lost',
];

const HOUR = 3600;

/** A 12 V flooded battery of 94 Ah, driven for some 25 min after 2.9 h, 11.0 h and 26.5 h. */
const NUMBER = 204;

interface Fault {
  readonly scenario?: (sound: Scenario) => Scenario;
  readonly sensor?: Partial<Scenario['sensor']>;
  /** What the logger wrote instead. */
  readonly spoil?: (block: SampleBlock) => void;
  readonly battery?: Partial<Session['battery']>;
}

/** `check: status`, with variant or reason, of all that is neither clear nor open for lack of something. */
function faultsOf({ scenario = (sound) => sound, sensor, spoil, battery }: Fault): Record<string, string> {
  const sound = randomScenario(NUMBER, { plain: true, days: 1.5, powertrain: 'combustion' });
  const told = scenario({
    ...sound,
    sleepA: 0.02,
    logging: { stepS: 1, crank: { stepS: 0.02, beforeS: 2, afterS: 4 } },
    sensor: { ...sound.sensor, ...sensor },
  });
  const session = sessionFor(told);
  const simulation = simulate(told);
  const rated = { coldCrankingA: 800, crankingStandard: 'EN', ...battery } as const;
  const manifest = { ...session, battery: { ...session.battery, ...rated } };
  const analyser = createAnalyser(manifest);
  for (const block of simulation.samples) {
    spoil?.(block);
    analyser.push(block);
  }
  const findings = runChecks(
    analyser.finish(cleanLog([])),
    manifest,
    CHECKS.filter((check) => ASKED.includes(check.id)),
  );
  const open = findings.filter(
    ({ status, reason }) => status !== 'clear' && reason !== 'no-drop-channel' && reason !== 'not-fitted',
  );
  return Object.fromEntries(
    open.map(({ check, status, variant, reason }) => [check, [status, variant ?? reason].filter(Boolean).join(': ')]),
  );
}

/** Each reading of current changed. */
const current = (change: (amps: number) => number) => (block: SampleBlock) => {
  for (let k = 0; k < block.n; k++) block.i[k] = change(block.i[k]);
};

describe('a simulated vehicle', () => {
  it('without a fault shows none', () => {
    expect(faultsOf({})).toEqual({});
  });

  it.each<[string, Fault, Record<string, string>]>([
    [
      'the starter’s current goes round the sensor',
      { spoil: current((a) => (a < -55 ? -6 : a)) },
      { 'current-path': 'fault' },
    ],
    ['a zero that is off by 80 mA', { sensor: { offsetA: 0.08 } }, { 'current-zero': 'fault' }],
    ['steps of 1 A', { sensor: { resolutionA: 1 } }, { 'current-resolution': 'fault' }],
    [
      'a range of 100 A',
      { sensor: { rangeA: 100 } },
      { 'current-range': 'fault', 'battery-resistance': 'undecided: not-measurable' },
    ],
    [
      'a drained battery',
      { scenario: (s) => ({ ...s, battery: { ...s.battery, charge: 0.05 }, sleepA: 0.5, drives: [], wakes: [] }) },
      { 'deep-discharge': 'fault' },
    ],
    [
      'a battery taken off for a quarter of an hour',
      { scenario: (s) => ({ ...s, disconnected: [{ from: 6 * HOUR, to: 6.25 * HOUR, boot: [] }] }) },
      { 'supply-lost': 'watch' },
    ],
    [
      'a charger for two hours',
      { scenario: (s) => ({ ...s, chargers: [{ from: 6 * HOUR, to: 8 * HOUR, volts: 14.2, maxA: 8 }] }) },
      { 'charger-seen': 'watch' },
    ],
    [
      'a bad ground',
      { scenario: (s) => ({ ...s, channels: [{ label: 'Engine ground', measures: 'drop', ohm: 0.006 }] }) },
      { 'circuit-drop': 'fault' },
    ],
  ])('%s', (_, fault, expected) => {
    const found = faultsOf(fault);
    expect(found).toMatchObject(expected);
    const accused = Object.keys(found).filter((check) => found[check].startsWith('fault'));
    expect(accused.filter((check) => !(check in expected))).toEqual([]);
  });
});
