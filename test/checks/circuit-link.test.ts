import { expect, test } from 'vitest';
import type { Link } from '../../src/analysis/analysis.ts';
import { check } from '../../src/checks/circuit-link.ts';
import { session, week } from './analysis-fixture.ts';
import { link, wakeful } from './wakeful.ts';

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
  expect(check.answer({ ...week(), links: [link({ wakesSeen: 0 })] }, session())).toMatchObject({
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
