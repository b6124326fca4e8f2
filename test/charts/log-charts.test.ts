/** Charts that show what is wrong with sensor, wiring and supply, on simulated vehicles that have just that. */
import { describe, expect, test } from 'vitest';
import { createAnalyser } from '../../src/analysis/analyse.ts';
import { WIDTH } from '../../src/charts/drawing/theme.ts';
import { runChecks } from '../../src/checks/run.ts';
import type { Scenario } from '../../src/demo/scenario.ts';
import { simulate } from '../../src/demo/vehicle.ts';
import { languagesThere, loadContent } from '../../src/node/content.ts';
import { cleanLog, sessionFor } from '../simulated/session-for.ts';
import { randomScenario } from '../sweep/vehicles.ts';
import { draftCharts } from './drafts.ts';
import { svgOf } from './svg-of.ts';

const HOUR = 3600;
const SOUND: Scenario = {
  ...randomScenario(204, { plain: true, days: 1.5, powertrain: 'combustion' }),
  sleepA: 0.02,
  logging: { stepS: 1, crank: { stepS: 0.02, beforeS: 2, afterS: 4 } },
};
const NAMES = [
  'circuit-drop',
  'current-path',
  'current-zero',
  'current-range',
  'current-resolution',
  'charger-seen',
  'supply-lost',
];

function subjectOf(told: Partial<Scenario>, sensor: Partial<Scenario['sensor']> = {}) {
  const scenario = { ...SOUND, ...told, sensor: { ...SOUND.sensor, ...sensor } };
  const session = sessionFor(scenario);
  const analyser = createAnalyser(session);
  for (const block of simulate(scenario).samples) analyser.push(block);
  const analysis = analyser.finish(cleanLog([]));
  return { analysis, session, findings: runChecks(analysis, session) };
}

const unseen = Array.from({ length: 12 }, (_, k) => ({
  from: (14 + k) * HOUR,
  to: (14 + k) * HOUR + 500,
  amps: 22,
  awake: true,
  unseen: true,
}));
const off = (hours: number, seconds: number) => ({ from: hours * HOUR, to: hours * HOUR + seconds, boot: [] });

const CASES: readonly [string, string, ReturnType<typeof subjectOf>, object][] = [
  [
    'a bad ground',
    'circuit-drop',
    subjectOf({ channels: [{ label: 'Engine ground', measures: 'drop', ohm: 0.0035 }] }),
    { limitV: 0.4 },
  ],
  ['a starter past the sensor', 'current-path', subjectOf({}, { missesStarter: true }), { moves: 3, unseen: 3 }],
  ['loads past the sensor', 'current-path', subjectOf({ extra: unseen }), { unseen: 24 }],
  ['a zero that is off', 'current-zero', subjectOf({}, { offsetA: 0.06 }), {}],
  ['a range that ends within cranks', 'current-range', subjectOf({}, { rangeA: 200 }), { rangeA: 200, cranks: 3 }],
  [
    'a range that ends within charging',
    'current-range',
    subjectOf({ logging: { stepS: 2 } }, { rangeA: 20 }),
    { rangeA: 20, cranks: 0 },
  ],
  ['coarse steps', 'current-resolution', subjectOf({}, { resolutionA: 0.05, noiseA: 0.03 }), { limitA: 0.05 }],
  ['steps that hide all sleep', 'current-resolution', subjectOf({}, { resolutionA: 1, noiseA: 0.3 }), { stepA: 1 }],
  [
    'a charger',
    'charger-seen',
    subjectOf({ chargers: [{ from: 6 * HOUR, to: 9 * HOUR, volts: 14.2, maxA: 8 }] }),
    { times: 1 },
  ],
  ['one loss', 'supply-lost', subjectOf({ disconnected: [off(6, 900)] }), { disconnections: 1, holes: 0 }],
  [
    'several losses',
    'supply-lost',
    subjectOf({ disconnected: [off(6, 90), off(14, 90), off(30, 90)] }),
    { disconnections: 3, holes: 0 },
  ],
];

describe.each(languagesThere())('in %s', (language) => {
  const { words } = loadContent(language);

  test.each(CASES)('%s is shown: %s', async (_, name, subject, facts) => {
    const draft = draftCharts({ ...subject, words }).find((one) => one.name === name);
    expect(draft).toMatchObject({ check: name, altFacts: facts });
    if (!draft) return;
    const heard: string[] = [];
    const svg = await svgOf(draft.spec, undefined, (message) => heard.push(message));
    expect(heard).toEqual([]);
    expect(svg).not.toMatch(/NaN|undefined|Infinity/);
    // Next to 15 others in a page.
    expect(svg.length).toBeLessThan(40_000);
    const width = Number(/viewBox="0 0 ([\d.]+) /.exec(svg)?.[1]);
    expect(width).toBeLessThanOrEqual(WIDTH);
    // Evidence leads to it.
    const finding = subject.findings.find(({ check }) => check === name);
    expect(finding?.evidence?.map(({ chart }) => chart)).toContain(name);
  });
});

test('a circuit that goes with slow settlings is shown beside them', () => {
  const held = { amps: 2.2, seconds: 100 * 60, channel: 0 };
  const first = SOUND.drives[0];
  const drives = Array.from({ length: 10 }, (_, k) => ({
    ...first,
    at: (1 + 6 * k) * HOUR,
    seconds: 1200,
    ...(k % 2 && { held }),
  }));
  const channels = [{ label: 'Heater valve', measures: 'supply' }] as const;
  const subject = subjectOf({ seconds: 60 * HOUR, drives, channels, wakes: [] });
  const draft = draftCharts({ ...subject, words: loadContent('en').words }).find(({ name }) => name === 'circuit-link');
  expect(draft?.altFacts).toMatchObject({ slowWith: 5, slowSeen: 5 });
  expect(JSON.stringify(draft?.spec)).toContain('key-offs from the middle of the log');
});

test('a vehicle without a fault shows none of them', () => {
  const names = draftCharts({ ...subjectOf({}), words: loadContent('en').words }).map(({ name }) => name);
  expect(names.filter((name) => NAMES.includes(name))).toEqual([]);
  expect(names).toContain('crank-voltage');
});

test('the readings of a sleep lie where the sensor puts them', () => {
  const subject = subjectOf({}, { offsetA: 0.06 });
  const facts = draftCharts({ ...subject, words: loadContent('en').words }).find(
    ({ name }) => name === 'current-zero',
  )?.altFacts;
  // 60 mA of offset less 20 mA that the vehicle and its lamp draw.
  expect(facts?.meanA).toBeGreaterThan(0.03);
  expect(facts?.meanA).toBeLessThan(0.045);
});

test('the drop is told at the starter’s steady draw, not at its inrush', () => {
  const [, , { analysis }] = CASES[0];
  const facts = draftCharts({ ...CASES[0][2], words: loadContent('en').words }).find(
    ({ name }) => name === 'circuit-drop',
  )?.altFacts;
  expect(Number(facts?.ohm)).toBeCloseTo(0.0035, 4);
  expect(Number(facts?.loadA)).toBeLessThan(Math.max(...analysis.cranks.map((crank) => crank.ampsPeak ?? 0)) / 2);
});
