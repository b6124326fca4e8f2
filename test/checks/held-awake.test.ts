import { expect, test } from 'vitest';
import { check } from '../../src/checks/held-awake.ts';
import { heldLoads } from '../../src/measures/account/held-loads.ts';
import { session, standing, week } from './analysis-fixture.ts';
import { wakeful } from './wakeful.ts';

const HOUR = 3600;
/** One wake in each stand, from an hour after key-off. */
const held = (seconds: number, amps = 1.5, story = {}) =>
  check.answer(wakeful({ everyS: 30 * HOUR, seconds, amps, story }), session());

test('wakes of hours are a fault, told with their charge', () => {
  const answer = held(2.5 * HOUR);
  expect(answer).toMatchObject({ status: 'fault', measured: { unit: 's' }, limit: { value: HOUR } });
  expect(answer.measured?.value).toBeCloseTo(2.5 * HOUR, 6);
  // 1.5 A above the sleeping draw of 18 mA.
  expect(answer.facts).toMatchObject({ longestAh: expect.closeTo(2.5 * 1.518, 3), afterKeyOffs: 0 });
});

test('short wakes and settlings are clear', () => {
  expect(held(120)).toMatchObject({ status: 'clear' });
});

test('a single key-off that took 80 min is worth watching; one of three hours is a fault; both belong to the time to sleep', () => {
  const once = (seconds: number) => check.answer(week({ settleS: (k) => (k === 3 ? seconds : 900) }), session());
  expect(once(4800)).toMatchObject({ status: 'watch', follows: 'sleep-time', facts: { afterKeyOffs: 1 } });
  expect(once(3 * HOUR)).toMatchObject({ status: 'fault', follows: 'sleep-time' });
});

test('sleep that always comes late after key-off is no holding awake', () => {
  expect(check.answer(week({ settleS: 5000 }), session())).toMatchObject({ status: 'clear', variant: 'late' });
});

test('a stretch as long as the limit is open', () => {
  expect(held(HOUR + 10)).toMatchObject({ status: 'undecided', reason: 'limit-within-uncertainty' });
});

test('a restless sensor holds nothing awake: its stretches draw no more than a sleeping vehicle may', () => {
  expect(held(3 * HOUR, 0.02).status).toBe('clear');
});

test('a converter that charges the battery meanwhile is no fault', () => {
  const analysis = wakeful({ everyS: 30 * HOUR, seconds: 2 * HOUR, amps: 1.5 });
  const periods = analysis.periods.map((one) => (one.kind === 'awake' ? { ...one, chargeInAh: 6 } : one));
  expect(check.answer({ ...analysis, periods }, session()).status).toBe('clear');
});

test('the fitting of the logger does not count', () => {
  const analysis = standing(30);
  const { start } = analysis;
  const settling = {
    kind: 'settling' as const,
    start,
    end: start + 2 * HOUR,
    chargeInAh: 0,
    chargeOutAh: 6,
    evidence: [],
    certainty: 1,
  };
  const [asleep] = analysis.periods;
  const periods = [settling, { ...asleep, start: settling.end }];
  expect(check.answer({ ...analysis, periods }, session()).status).toBe('clear');
});

test('half an hour without sleep says nothing', () => {
  expect(check.answer(standing(0.5, { settleS: null }), session())).toMatchObject({
    status: 'undecided',
    reason: 'too-little-sleep',
  });
});

test('a circuit that is on while it is held awake, and not in sleep, is told', () => {
  const analysis = wakeful({ everyS: 30 * HOUR, seconds: 2.5 * HOUR, amps: 1.5 });
  const base = session();
  const channel = { name: 'in1_v', label: 'Seat heater', unit: 'V', activeAboveV: 6, measures: 'supply' } as const;
  const manifest = { ...base, log: { ...base.log, channels: [channel] } };
  const tellOf = (isOn: (kind: string) => boolean) => {
    const column = (of: (period: (typeof analysis.periods)[number]) => number) =>
      Float64Array.from(analysis.periods, of);
    const volts = column(({ kind }) => (isOn(kind) ? 12 : 0));
    const tiles = {
      ...analysis.tiles,
      n: analysis.periods.length,
      t0: column(({ start }) => start),
      t1: column(({ end }) => end),
      chMin: [volts],
      chMax: [volts],
    };
    const { facts } = check.answer({ ...analysis, tiles, has: { ...analysis.has, channels: [true] } }, manifest);
    return facts && 'channel' in facts ? facts.channel : undefined;
  };
  expect(tellOf((kind) => kind === 'awake')).toBe('Seat heater');
  expect(tellOf(() => true)).toBeNull();
  expect(tellOf(() => false)).toBeNull();
});

test('a long stretch awake behind a hole counts; while the logger was fitted it does not', () => {
  const usual = week({ settleS: (k) => (k === 3 ? 9000 : 900) });
  const behindHole = (at: number) => ({
    ...usual,
    stands: usual.stands.map((stand, k) => (k === at ? { ...stand, keyOffInLog: false } : stand)),
  });
  expect(check.answer(behindHole(3), session()).status).toBe('fault');
  const first = week({ settleS: 900 });
  const fittedFor = (hours: number) => {
    const [night, ...others] = first.periods;
    const until = night.start + hours * 3600;
    const settling = { ...night, kind: 'settling' as const, end: until, chargeOutAh: 3 * hours };
    return { ...first, periods: [settling, { ...night, start: until }, ...others] };
  };
  expect(check.answer(fittedFor(3), session()).status).not.toBe('fault');
  // Nobody takes all night to fit a logger.
  expect(check.answer(fittedFor(9), session()).status).toBe('fault');
});

test('what only key-offs show is told of key-offs, and a short wake among them of wakes', () => {
  const afterKeyOff = check.answer(week({ settleS: (k) => (k === 3 ? 3 * HOUR : 900) }), session());
  expect(afterKeyOff).toMatchObject({ status: 'fault', facts: { afterWakes: 0, wakesSeen: false } });
  expect(check.answer(week(), session())).toMatchObject({ status: 'clear', facts: { wakesSeen: false } });
  expect(held(120)).toMatchObject({ status: 'clear', facts: { wakesSeen: true } });
});

test('a load that would empty the battery within a day is told by that, and not as more than the whole of it', () => {
  const stuck = (meanA: number) => {
    const analysis = week();
    const [, , , , stand] = analysis.stands;
    const seconds = stand.end - stand.start;
    const span = { start: stand.start, end: stand.end, stand: 4, seconds, meanA, chargeAh: (meanA * seconds) / 3600 };
    heldLoads.given(analysis, [{ ...span, from: 'key-off', until: 'key-on' }]);
    return check.answer(analysis, session());
  };
  expect(stuck(0.5)).toMatchObject({ variant: 'load', facts: { emptyS: null, fromKeyOff: true, comesOn: false } });
  expect(stuck(5)).toMatchObject({
    variant: 'load',
    facts: { dayShare: null, emptyS: expect.closeTo((70 / 5) * HOUR, -2) },
  });
});

test('once a little too long is told with what the technician noted then', () => {
  const analysis = week({ settleS: (k) => (k === 3 ? 1.4 * HOUR : 900) });
  const start = analysis.stands[3]?.start ?? 0;
  const noted = { ...session(), notes: [{ atMs: (start + 300) * 1000, text: 'Doors open, radio on' }] };
  expect(check.answer(analysis, noted)).toMatchObject({ status: 'watch', facts: { note: 'Doors open, radio on' } });
  expect(check.answer(analysis, session()).facts).toMatchObject({ note: null });
});
