/** What a doubt leaves of others' all-clears. Checks are made up. */
import { describe, expect, it } from 'vitest';
import type { Check, Doubt, Finding } from '../../src/checks/check.ts';
import { withDoubts } from '../../src/checks/trust.ts';

const check = (id: string, told: Partial<Check> = {}): Check => ({
  id,
  about: 'vehicle',
  side: 'max',
  needs: ['current'],
  limits: [],
  reasons: [],
  cautions: [],
  answer: () => ({ status: 'clear', facts: {} }),
  ...told,
});
const finding = (id: string, status: Finding['status'] = 'clear'): Finding => ({
  check: id,
  status,
  variant: 'x',
  cautions: [],
});

/** The findings after a sensor's fault that doubts `doubt`. */
function doubted(doubt: Doubt | null, others: readonly Check[], status: Finding['status'] = 'clear') {
  const sensor = check('sensor', { about: 'log', doubts: ({ status: own }) => (own === 'fault' ? doubt : null) });
  const [, ...found] = withDoubts(
    [finding('sensor', 'fault'), ...others.map(({ id }) => finding(id, status))],
    [sensor, ...others],
  );
  return found;
}

describe('an all-clear in doubt', () => {
  it('becomes undecided, names what it follows from, and loses its story', () => {
    expect(doubted('all', [check('draw')])).toEqual([
      {
        ...{ check: 'draw', status: 'undecided', reason: 'in-doubt', follows: 'sensor', cautions: [] },
        facts: { wasOpen: false },
      },
    ]);
  });

  it('is one too where the figures themselves leave it open: days of a draw in doubt are none', () => {
    const open = (reason: string) => {
      const draw = { ...finding('draw'), status: 'undecided' as const, reason };
      const sensor = check('sensor', { about: 'log', doubts: () => 'all' });
      return withDoubts([draw, finding('sensor')], [check('draw'), sensor])[0];
    };
    expect(open('limit-within-uncertainty')).toMatchObject({ reason: 'in-doubt', facts: { wasOpen: true } });
    expect(open('no-capacity')).toMatchObject({ reason: 'no-capacity' });
  });

  it.each<[string, Doubt, Partial<Check>, boolean]>([
    ['current', 'current', {}, true],
    ['current', 'current', { needs: [] }, false],
    ['a shifted zero', 'small-current', {}, true],
    ['a shifted zero, of a starter’s current', 'small-current', { largeCurrent: true }, false],
    ['a check by its name', ['draw'], {}, true],
    ['another by its name', ['other'], {}, false],
    ['everything, of the log itself', 'all', { about: 'log' }, false],
  ])('%s: %j %j', (_, doubt, told, isOpen) => {
    expect(doubted(doubt, [check('draw', told)])[0]?.status).toBe(isOpen ? 'undecided' : 'clear');
  });
});

it('faults stay faults, and a finding doubts not itself', () => {
  expect(doubted('all', [check('draw')], 'fault')[0]?.status).toBe('fault');
  const own = check('draw', { doubts: () => 'all' });
  expect(withDoubts([finding('draw')], [own])[0]?.status).toBe('clear');
});
