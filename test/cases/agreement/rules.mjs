// What a fault of the recording leaves of an all-clear, what may follow from what, and sums.

import { asleepS, is, isBad, isOfLog, rule, told, within } from './reading.mjs';

/** What no finding may call in order while a fault of the recording says that it cannot be known. */
export const VOID = [
  [
    ['current-path', 'fault'],
    ['parked-draw', 'wake-ups', 'stand-time', 'charge-balance', 'held-awake', 'battery-resistance'],
  ],
  [
    ['current-path', 'watch:starter', 'watch:in-part'],
    ['parked-draw', 'wake-ups', 'stand-time', 'charge-balance'],
  ],
  [
    ['current-zero', 'fault'],
    ['parked-draw', 'wake-ups', 'stand-time', 'charge-balance'],
  ],
  [
    ['current-resolution', 'fault'],
    ['parked-draw', 'wake-ups', 'stand-time'],
  ],
  [
    ['supply-lost', 'fault'],
    ['stand-time', 'charge-balance'],
  ],
  [
    ['log-coverage', 'fault:other-system'],
    ['resting-charge', 'crank-voltage', 'charging-low', 'charging-high', 'deep-discharge'],
  ],
].map(([one, checks]) =>
  rule(`${one.join(' ')} decides what may be clear`, 'a fault of the recording is a doubt of what it recorded', (r) => {
    const clear = checks.filter((check) => is(r, [check, 'clear']));
    return is(r, one) && clear.length > 0 && `${told(is(r, one))} and clear: ${clear.join(', ')}`;
  }),
);
VOID.push(
  rule(
    'with most of the time between its rows missing nothing of the vehicle is clear',
    'what is left may be the wrong part',
    (r) => {
      const coverage = is(r, ['log-coverage', 'fault']);
      const clear = r.findings.filter((f) => f.status === 'clear' && !isOfLog(f)).map(({ check }) => check);
      const isMostlyMissing = r.log.missing_s > r.log.covered_s;
      return coverage && isMostlyMissing && clear.length > 0 && clear.join(', ');
    },
  ),
);

/** What may follow from what: by physics alone. A draw asleep and wakes do not make each other; beyond the posts nothing lowers the posts' voltage. */
export const FOLLOWS = {
  'parked-draw': ['sleep-time'],
  'sleep-time': ['held-awake'],
  'held-awake': ['sleep-time'],
  'circuit-link': ['wake-ups', 'sleep-time'],
  'stand-time': [
    'parked-draw',
    'wake-ups',
    'held-awake',
    'sleep-time',
    'resting-charge',
    'charging-low',
    'crank-voltage',
  ],
  'resting-charge': ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'charge-balance'],
  'deep-discharge': [
    'charging-low',
    'parked-draw',
    'wake-ups',
    'held-awake',
    'sleep-time',
    'charge-balance',
    'resting-charge',
  ],
  'freeze-risk': [
    'resting-charge',
    'deep-discharge',
    'charging-low',
    'parked-draw',
    'wake-ups',
    'held-awake',
    'sleep-time',
    'charge-balance',
  ],
  'crank-voltage': ['deep-discharge', 'resting-charge', 'battery-resistance', 'charging-low'],
  'battery-resistance': ['resting-charge', 'deep-discharge'],
  'charge-balance': ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time'],
  'battery-heat': ['charging-high'],
};

export const ACCOUNTS = [
  rule('the parts of each stand’s account add up', 'every ampere-hour has one place', (r) => {
    const off = r.parked.find(({ account, charge_out_ah }) => {
      if (!account) return false;
      const { settling_ah, asleep_ah, wakes_ah, held_ah, unknown_ah } = account;
      const parts = [settling_ah, asleep_ah, wakes_ah, held_ah, unknown_ah];
      const sum = parts.reduce((all, part) => all + part, 0);
      return Math.abs(sum - charge_out_ah) > 1e-4 * charge_out_ah + 1e-6 || parts.some((part) => part < -1e-9);
    });
    return off && JSON.stringify([off.start, off.charge_out_ah, off.account]);
  }),
  rule('what follows can follow', 'only from what causes it, and from what was found', (r) => {
    const odd = r.findings.filter(({ check, status, follows }) => {
      if (follows === null || isOfLog({ check: follows })) return false;
      if (status === 'undecided') return !isBad(r, follows);
      return !FOLLOWS[check]?.includes(follows) || !isBad(r, follows);
    });
    return odd.length > 0 && odd.map((f) => `${f.check} from ${f.follows}`).join(', ');
  }),
  rule('wakes are those of the stands', 'a table and its sum', (r) => {
    const sum = r.parked.reduce((n, stand) => n + stand.wakes, 0);
    return sum !== r.wakes.length && `${sum} of ${r.wakes.length}`;
  }),
  rule('every wake is in one pattern', 'a wake has one source, or none that is known', (r) => {
    const sum = r.wake_patterns.reduce((n, { count }) => n + count, 0);
    return sum < r.wakes.length && `${sum} of ${r.wakes.length}`;
  }),
  rule('the mean parked draw is that of the stands’ accounts', 'one account, and no sum beside it', (r) => {
    const { measured } = is(r, ['wake-ups', 'fault', 'watch']) ?? {};
    const stands = r.parked.filter(({ account, sleep_draw_a }) => account && sleep_draw_a !== null);
    const isElse = stands.some(({ account }) => account.held_ah > 0 || account.unknown_ah > 0);
    const isUsed = (r.events ?? []).some(({ kind }) => kind === 'heavy-load');
    if (!measured || isElse || isUsed) return false;
    const ah = stands.reduce((sum, { account }) => sum + account.asleep_ah + account.wakes_ah, 0);
    const seconds = stands.reduce(
      (sum, stand) =>
        sum + within(r, stand).reduce((s, p) => s + (p.kind === 'asleep' || p.kind === 'awake' ? p.seconds : 0), 0),
      0,
    );
    const meanA = (ah * 3600) / seconds;
    const off = Math.abs(meanA - measured.value);
    return off > measured.uncertainty + 0.05 * meanA && `${measured.value} A, the accounts ${meanA} A`;
  }),
  rule('the draw asleep is that of the stands', 'one figure for one thing', (r) => {
    const { measured } = is(r, ['parked-draw', 'clear', 'fault:', 'watch']) ?? {};
    const draws = r.parked.flatMap((stand) => (asleepS(r, stand) >= 1790 ? [stand.sleep_draw_a] : []));
    return (
      measured &&
      draws.length > 0 &&
      !(measured.value >= Math.min(...draws) - 1e-4 && measured.value <= Math.max(...draws) + 1e-4) &&
      `${measured.value} A, stands ${draws.join(', ')}`
    );
  }),
];
