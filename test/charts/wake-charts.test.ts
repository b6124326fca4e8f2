import { expect, test } from 'vitest';
import type { Analysis } from '../../src/analysis/model.ts';
import { circuitLink } from '../../src/charts/circuit-link.ts';
import { sessionClock } from '../../src/charts/drawing/session-clock.ts';
import { heldAwake } from '../../src/charts/held-awake.ts';
import { wakeUps } from '../../src/charts/wake-ups.ts';
import type { Finding } from '../../src/checks/check.ts';
import type { Channel } from '../../src/manifest/session.ts';
import { type WakePattern, wakePatterns } from '../../src/measures/wakes/patterns.ts';
import { ENGLISH } from './english.ts';
import { madeUp } from './made-up.ts';
import { svgOf } from './svg-of.ts';

const CHANNEL: Channel = {
  name: 'in1',
  label: 'A <long> label of a circuit',
  unit: 'V',
  activeAboveV: 6,
  measures: 'supply',
};
const HELD: Finding = {
  check: 'held-awake',
  status: 'fault',
  cautions: [],
  limit: { value: 1800, unit: 's', source: 'test' },
};

function subject(
  change: (analysis: Analysis) => Analysis = (analysis) => analysis,
  findings = [HELD],
  channels = [CHANNEL],
) {
  const { analysis, session } = madeUp();
  const volts = Float64Array.from(analysis.tiles.t0, (t) => (analysis.wakes.some((w) => w.start === t) ? 12 : 0));
  const withChannel = {
    ...analysis,
    has: { ...analysis.has, channels: [true] },
    tiles: { ...analysis.tiles, chMin: [volts], chMax: [volts] },
  };
  return {
    analysis: change(withChannel),
    session: { ...session, log: { ...session.log, channels } },
    findings,
    words: ENGLISH,
    clock: sessionClock(session.timezone, analysis.start, ENGLISH),
  };
}

test.each([
  ['held-awake', heldAwake],
  ['circuit-link', circuitLink],
  ['wake-ups', wakeUps],
] as const)('%s is drawn without a complaint, light, in whole numbers', async (name, draftOf) => {
  const draft = draftOf(subject());
  expect(draft).toMatchObject({ name, check: name });
  const heard: string[] = [];
  const svg = await svgOf(draft?.spec ?? {}, undefined, (message) => heard.push(message));
  expect(heard).toEqual([]);
  expect(svg).not.toMatch(/NaN|Infinity|undefined|<long>/);
  expect(svg.length).toBeLessThan(60_000);
});

test('held-awake counts what is over the limit, and is left out where nothing was', () => {
  const settlings = madeUp().analysis.periods.filter((period) => period.kind === 'settling');
  const late = settlings.filter((period) => period.end - period.start > 1800);
  expect(heldAwake(subject())?.altFacts).toMatchObject({ long: late.length, limitS: 1800 });
  expect(heldAwake(subject(undefined, [{ ...HELD, status: 'clear' }]))).toBeNull();
  expect(heldAwake(subject(undefined, []))).toBeNull();
});

test('circuit-link shows a few wakes and needs a circuit, a wake and current', () => {
  const facts = circuitLink(subject())?.altFacts;
  const shown = madeUp().analysis.wakes.filter(
    ({ start }) => start > Number(facts?.fromT) && start < Number(facts?.toT),
  );
  expect(shown.length).toBeGreaterThan(2);
  expect(shown.length).toBeLessThanOrEqual(9);
  expect(circuitLink(subject((analysis) => ({ ...analysis, wakes: [] })))).toBeNull();
  expect(circuitLink(subject(undefined, [], [{ ...CHANNEL, measures: 'drop' }]))).toBeNull();
  expect(circuitLink(subject((analysis) => ({ ...analysis, has: { ...analysis.has, current: false } })))).toBeNull();
});

test('wakes of the dearest pattern are told from the others, in words too', () => {
  const pattern = {
    count: 3,
    periodS: 5400,
    jitterS: 60,
    seconds: 60,
    meanA: 1.6,
    chargeAhPerDay: 0.4,
    channel: null,
    parts: [0, 1, 2],
  };
  const spec = (patterns: readonly WakePattern[]) => {
    const woken = subject();
    wakePatterns.given(woken.analysis, patterns);
    return JSON.stringify(wakeUps(woken)?.spec);
  };
  expect(spec([pattern])).toContain(ENGLISH.say('note.wake-patterns'));
  expect(spec([])).toContain(ENGLISH.say('note.wake-ups'));
});
