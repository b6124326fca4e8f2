import { expect, test } from 'vitest';
import { check } from '../../src/checks/current-direction.ts';
import { session, week } from './analysis-fixture.ts';

const ask = (agree: number, against: number, flipped = false) =>
  check.answer(
    week({ direction: { flipped, agree, against, evidence: [{ what: 'crank', agree, against }] } }),
    session(),
  );

test('every sign agrees', () =>
  expect(ask(28, 0)).toMatchObject({ status: 'clear', facts: { signs: 28, cranks: 28, drives: 0 } }));
test('the sign was put right: a fault of the manifest or the fitting', () =>
  expect(ask(0, 28, true).status).toBe('fault'));
test('no sign seen', () => expect(ask(0, 0)).toMatchObject({ status: 'undecided', reason: 'no-evidence' }));
test('signs that contradict each other', () =>
  expect(ask(5, 3)).toMatchObject({ status: 'undecided', reason: 'evidence-mixed' }));
test('a rare contradiction is let pass', () => expect(ask(27, 1).status).toBe('clear'));
