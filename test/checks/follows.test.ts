import { expect, test } from 'vitest';
import type { Finding, Status } from '../../src/checks/check.ts';
import { withCauses } from '../../src/checks/follows.ts';

const found = (check: string, status: Status, more: Partial<Finding> = {}): Finding => ({
  check,
  status,
  cautions: [],
  ...more,
});
const ofA = (value: number) => ({ measured: { value, unit: 'A', uncertainty: null } }) as const;
const losses = (sleepA: number, wakesA: number) => [
  found('parked-draw', 'fault', ofA(sleepA)),
  found('wake-ups', 'fault', ofA(sleepA + wakesA)),
];
const follows = (findings: readonly Finding[]) =>
  Object.fromEntries(withCauses(findings).map((finding) => [finding.check, finding.follows]));

test('of two losses neither follows from the other, and what follows, follows from the larger', () => {
  const rest = [found('stand-time', 'fault'), found('resting-charge', 'fault')];
  expect(follows([...losses(0.06, 0.16), ...rest])).toEqual({
    'parked-draw': undefined,
    'wake-ups': undefined,
    'stand-time': 'wake-ups',
    'resting-charge': 'wake-ups',
  });
  expect(follows([...losses(0.3, 0.07), ...rest])).toMatchObject({
    'parked-draw': undefined,
    'wake-ups': undefined,
    'stand-time': 'parked-draw',
  });
});

test('wakes that are no fault take nothing from the draw', () => {
  const cheap = found('wake-ups', 'clear', { facts: { sleepA: 0.06, wakesA: 0.001 } });
  expect(follows([found('parked-draw', 'fault'), cheap])['parked-draw']).toBeUndefined();
});

test('a cause that a check names itself stands only while it is told', () => {
  const link = found('circuit-link', 'fault', { follows: 'wake-ups' });
  expect(follows([link, found('wake-ups', 'fault')])['circuit-link']).toBe('wake-ups');
  expect(follows([link, found('wake-ups', 'clear')])['circuit-link']).toBeUndefined();
});

test('of several causes, one that is itself told under another is not named', () => {
  const held = found('held-awake', 'fault', { follows: 'sleep-time' });
  const findings = [held, found('sleep-time', 'fault'), found('stand-time', 'fault')];
  expect(follows(findings)['stand-time']).toBe('sleep-time');
});

test('held against another system, every finding follows from that', () => {
  const findings = [
    found('log-coverage', 'fault', { variant: 'other-system' }),
    found('resting-charge', 'fault'),
    found('supply-lost', 'watch'),
    found('parked-draw', 'undecided'),
    found('log-length', 'clear'),
  ];
  expect(follows(findings)).toEqual({
    'log-coverage': undefined,
    'parked-draw': 'log-coverage',
    'log-length': undefined,
    'resting-charge': 'log-coverage',
    'supply-lost': 'log-coverage',
  });
});
