import { expect, test } from 'vitest';
import { check } from '../../src/checks/circuit-link.ts';
import { type StandsCompared, standsCompared } from '../../src/measures/account/stands-compared.ts';
import type { Link } from '../../src/measures/circuits/links.ts';
import { session, week } from './analysis-fixture.ts';
import { known, link, wakeful } from './wakeful.ts';

const ask = (links: readonly Link[], told = {}) =>
  check.answer(wakeful({ everyS: 2220, seconds: 150, amps: 2.4, links, ...told }), session());
const lamp = link({ channel: 'Load bay lamp', wakesWith: 25, chargeShare: 0.6, chance: 0.4 });

test('a circuit that luck would hardly match is named, and follows from the wakes', () => {
  expect(ask([lamp, link()])).toMatchObject({
    status: 'fault',
    follows: 'wake-ups',
    facts: { channel: 'Tracker supply', others: 'Load bay lamp' },
  });
});

test('a busy circuit comes out as chance', () => {
  expect(ask([lamp])).toMatchObject({ status: 'clear', measured: { value: 0.4 } });
});

test('the number of circuits counts against each', () => {
  const near = link({ chance: 0.006 });
  expect(ask([near]).status).toBe('fault');
  expect(ask([near, lamp])).toMatchObject({ status: 'undecided', reason: 'maybe-chance' });
});

test('a link with wakes that cost little accuses nobody', () => {
  expect(ask([link()], { everyS: 20_000, seconds: 30 })).toMatchObject({ status: 'clear', variant: 'linked' });
});

test('without wakes, or with two, nothing can be told', () => {
  expect(check.answer(known(week(), { links: [link({ wakesSeen: 0 })] }), session())).toMatchObject({
    status: 'undecided',
    reason: 'no-wakes',
  });
  expect(ask([link({ wakesWith: 2, wakesSeen: 2, chance: 0.2 })])).toMatchObject({
    status: 'undecided',
    reason: 'few-wakes',
  });
});

test('a channel across a cable is no circuit that could go with wakes', () => {
  const drop = { name: 'in1_v', label: 'Tracker supply', unit: 'V', measures: 'drop' } as const;
  const base = session();
  const manifest = { ...base, log: { ...base.log, channels: [drop] } };
  const analysis = wakeful({ everyS: 2220, seconds: 150, amps: 2.4, links: [link()] });
  expect(check.answer(analysis, manifest)).toMatchObject({ status: 'undecided', reason: 'only-drops' });
});

test('a good match in a small part of the wakes names nobody', () => {
  expect(ask([link({ match: 0.2, chance: 0.001 })]).status).toBe('clear');
});

const slow = (told = {}) => ({
  slowWith: 5,
  slowSeen: 5,
  quickWith: 0,
  quickSeen: 9,
  without: false,
  chargeShare: 1,
  lagS: -300,
  chance: 0.0005,
  ...told,
});
/** A week without wakes in which every third key-off is followed by two and a half hours awake. */
const lateNow = (settlings: ReturnType<typeof slow>, told: Partial<Link> = {}) =>
  check.answer(
    known(week({ settleS: (k) => (k % 3 ? 900 : 9000) }), {
      links: [link({ wakesWith: 0, wakesSeen: 0, chance: 1, settlings, ...told })],
    }),
    session(),
  );

test('a circuit that goes with the slow settlings alone is named, and follows from the time to sleep', () => {
  expect(lateNow(slow())).toMatchObject({ status: 'fault', variant: 'settlings', follows: 'sleep-time' });
});

test('so is one in a vehicle whose wakes have nothing to do with it', () => {
  const told = { wakesWith: 3, wakesSeen: 30, chance: 0.7 };
  expect(lateNow(slow(), told)).toMatchObject({ status: 'fault', variant: 'settlings', measured: { value: 0.0005 } });
});

test('one that is on after quick key-offs as well explains nothing', () => {
  expect(lateNow(slow({ quickWith: 9, chance: 1 }))).toMatchObject({ status: 'clear', variant: 'settlings' });
});

test('one that is off after each slow key-off and on after every quick one is named for that', () => {
  expect(lateNow(slow({ slowWith: 0, quickWith: 9, without: true, chance: 0.009 }))).toMatchObject({
    status: 'fault',
    variant: 'settlings-without',
    follows: 'sleep-time',
  });
  expect(lateNow(slow({ slowWith: 0, quickWith: 9, without: true, chance: 0.04 }))).toMatchObject({
    reason: 'few-settlings',
  });
});

test('what is told to be on while a load stays is not cleared beside it', () => {
  const links = [link({ wakesWith: 0, wakesSeen: 0, chance: 1, settlings: slow({ quickWith: 9, chance: 0.3 }) })];
  const analysis = known(week({ settleS: (k) => (k % 3 ? 900 : 9000) }), { links });
  expect(check.answer(analysis, session()).status).toBe('clear');
  standsCompared.given(analysis, { channel: links[0]?.channel ?? null } as StandsCompared);
  expect(check.answer(analysis, session())).toMatchObject({
    status: 'undecided',
    reason: 'on-meanwhile',
    facts: { quickWith: 9 },
  });
});

test('a whole match in too few settlings stays open', () => {
  expect(lateNow(slow({ slowWith: 1, slowSeen: 1, quickSeen: 4, chance: 0.2 }))).toMatchObject({
    status: 'undecided',
    reason: 'few-settlings',
  });
});

test('slow settlings within the limit are not asked about', () => {
  const analysis = known(week(), { links: [link({ wakesSeen: 0, settlings: slow() })] });
  expect(check.answer(analysis, session())).toMatchObject({ status: 'undecided', reason: 'no-wakes' });
});
