import { expect, test } from 'vitest';
import { check } from '../../src/checks/current-direction.ts';
import { session, week } from './analysis-fixture.ts';

const ask = (agree: number, against: number, flipped = false) =>
  check.answer(
    week({ direction: { flipped, turned: null, agree, against, evidence: [{ what: 'crank', agree, against }] } }),
    session(),
  );

test('every sign agrees', () =>
  expect(ask(28, 0)).toMatchObject({ status: 'clear', facts: { signs: 28, cranks: 28, drives: 0 } }));
test('the sign was put right: a fault of the manifest or the fitting', () =>
  expect(ask(0, 28, true).status).toBe('fault'));
test('the sensor was turned round in mid-log: that part was put right, and it says which', () => {
  const turned = { start: 1.77e9, end: 1.7701e9 };
  const direction = { flipped: false, turned, agree: 5, against: 5, evidence: [] };
  expect(check.answer(week({ direction }), session())).toMatchObject({
    status: 'fault',
    variant: 'turned',
    facts: { fromT: turned.start, toT: turned.end },
  });
});
test('no sign seen', () => expect(ask(0, 0)).toMatchObject({ status: 'undecided', reason: 'no-evidence' }));
test('signs that contradict each other', () =>
  expect(ask(5, 3)).toMatchObject({ status: 'undecided', reason: 'evidence-mixed' }));
test('a rare contradiction is let pass', () => expect(ask(27, 1).status).toBe('clear'));
