// What may not stand in one report: findings, or a finding and what the log shows, whose sentences exclude each other; and
// what page one must keep to. One table, each line with its reason, held against every report that the tests, the fuzz run,
// the workshop and the sweep make. Plain JavaScript, so that scripts read it too.

const finding = (r, check) => r.findings.find((f) => f.check === check);
const storyOf = (f) => (f.status === 'undecided' ? f.reason_key : f.variant) ?? '';
/** The finding of a check where it says one of those: a status, or a status with its story or reason (`fault:load`, `fault:` for the plain one). */
const is = (r, [check, ...allowed]) => {
  const f = finding(r, check);
  return f && allowed.some((one) => one === f.status || one === `${f.status}:${storyOf(f)}`) ? f : undefined;
};
const isBad = (r, check) => is(r, [check, 'fault', 'watch']) !== undefined;
const told = (f) => `${f.check} ${f.status}${storyOf(f) ? `:${storyOf(f)}` : ''} (${f.title})`;
const spanS = ({ start, end }) => (Date.parse(end) - Date.parse(start)) / 1000;
const kindS = (r, kind) => r.periods.reduce((sum, p) => sum + (p.kind === kind ? p.seconds : 0), 0);
const within = (r, { start, end }) => r.periods.filter((p) => p.start >= start && p.end <= end);
const asleepS = (r, stand) => within(r, stand).reduce((sum, p) => sum + (p.kind === 'asleep' ? p.seconds : 0), 0);
const loads = (r) =>
  r.parked.flatMap((stand) => (stand.held ?? []).map((load) => ({ ...load, stand, lastedS: spanS(load) })));
/** Starts that failed and were not cured by the next attempt; a log that ends with one shows nothing. */
const failed = (r) => {
  const all = (r.events ?? []).filter(
    ({ kind, volts_min }) => kind === 'failed-start' && volts_min > 0.25 * r.session.vehicle.system_voltage_v,
  );
  const last = all.at(-1);
  const isLost = last && !r.drives.some(({ start }) => start >= last.start);
  const isSeen = last && Date.parse(r.log.end) - Date.parse(last.start) > 620_000;
  return all.length > 1 || (isLost && isSeen) ? all : [];
};
const isDisturbed = (r, { start, time_to_sleep_s }) =>
  r.periods.some(
    (p) =>
      ['on-charger', 'disconnected', 'no-data', 'unknown'].includes(p.kind) &&
      p.start >= start &&
      Date.parse(p.start) < Date.parse(start) + time_to_sleep_s * 1000,
  );
const LOG_CHECKS = [
  'log-coverage',
  'log-length',
  'current-direction',
  'current-path',
  'current-zero',
  'current-range',
  'current-resolution',
  'charger-seen',
  'supply-lost',
];
const isOfLog = ({ check }) => LOG_CHECKS.includes(check);

/** Two findings that cannot both stand. */
const pair = (one, other, why) => ({
  name: `${one[0]} ${one.slice(1).join('|')} / ${other[0]} ${other.slice(1).join('|')}`,
  why,
  broken: (r) => is(r, one) && is(r, other) && `${told(is(r, one))} and ${told(is(r, other))}`,
});
/** A finding, and what the report's own data show: `shown` gives what speaks against it, or nothing. */
const against = (one, name, why, shown) => ({
  name: `${one[0]} ${one.slice(1).join('|')} / ${name}`,
  why,
  broken(r) {
    const found = is(r, one) && shown(r, is(r, one));
    return found && `${told(is(r, one))} and ${found}`;
  },
});
const rule = (name, why, broken) => ({ name, why, broken });

const SLEEP = [
  pair(['parked-draw', 'fault:never-asleep'], ['sleep-time', 'clear'], 'what never slept did not fall asleep in time'),
  pair(['parked-draw', 'undecided:never-asleep'], ['sleep-time', 'clear'], 'the same'),
  pair(
    ['sleep-time', 'fault:never-asleep'],
    ['held-awake', 'clear:', 'clear:none'],
    'a stand without sleep was awake for longer than it may',
  ),
  pair(
    ['sleep-time', 'fault', 'watch'],
    ['held-awake', 'clear:none'],
    'nothing sleeps without a break and falls asleep late',
  ),
  pair(['held-awake', 'fault:load'], ['stand-time', 'clear'], 'with the load on it may stand for less'),
  pair(['wake-ups', 'fault'], ['held-awake', 'clear:none'], '"slept without a break", and woken'),
  against(
    ['held-awake', 'clear:none'],
    'wakes',
    '"slept without a break", and woken',
    (r) => r.wakes.some((wake) => wake.seconds > 60 && wake.mean_a > 0.1) && `${r.wakes.length} wakes`,
  ),
  against(
    ['wake-ups', 'clear:none'],
    'wakes',
    '"nothing woke it", and woken',
    (r) => r.wakes.length > 0 && `${r.wakes.length} wakes`,
  ),
  against(
    ['parked-draw', 'fault:never-asleep', 'undecided:never-asleep'],
    'sleep',
    '"it never slept", and it slept',
    (r) =>
      r.parked.some((stand) => stand.sleep_draw_a !== null && asleepS(r, stand) >= 1800) &&
      `${r.totals.asleep_s} s asleep`,
  ),
  against(
    ['wake-ups', 'undecided:never-asleep'],
    'sleep',
    '"it never slept", and it slept',
    (r) => r.totals.asleep_s > 0 && `${r.totals.asleep_s} s asleep`,
  ),
  against(
    ['log-length', 'fault:no-sleep'],
    'sleep',
    '"the log holds no sleep", and sleep',
    (r) => r.totals.asleep_s > 0 && `${r.totals.asleep_s} s asleep`,
  ),
  against(
    ['sleep-time', 'fault:never-asleep'],
    'sleep in every stand',
    'a stand that slept did not stay awake all the time',
    (r) => r.parked.every((stand) => stand.sleep_draw_a !== null) && 'every stand slept',
  ),
  against(
    ['held-awake', 'clear'],
    'a load that stays for longer',
    '"never awake for longer", and a load was on for longer',
    (r, f) => {
      // Where it is the rule that sleep comes late, what is on from key-off is told by that.
      const counts = ({ stand, start }) => f.variant !== 'late' || start > stand.start;
      const long = loads(r)
        .filter(counts)
        .find(({ lastedS }) => lastedS > 1.02 * (f.measured?.value ?? 0) + 120);
      return long && `${long.lastedS} s at ${long.mean_a} A`;
    },
  ),
  against(['sleep-time', 'clear'], 'a load from key-off to key-on', 'in that stand it did not fall asleep', (r) => {
    const whole = loads(r).find(
      ({ stand, start, end, lastedS }) =>
        stand.key_off_in_log && start === stand.start && end === stand.end && lastedS > 7200,
    );
    return whole && `${whole.lastedS} s at ${whole.mean_a} A from ${whole.start}`;
  }),
  against(['sleep-time', 'clear'], 'a stand that took longer', '"within", and one stand was not', (r, { limit }) => {
    const late = r.parked.find((stand) => stand.time_to_sleep_s > limit.value + 300 && !isDisturbed(r, stand));
    return late && `${late.time_to_sleep_s} s from ${late.start}`;
  }),
  against(
    ['parked-draw', 'clear'],
    'a stand far above the limit',
    'one stand over the limit is at least to be watched',
    (r, { limit }) => {
      const high = r.parked.find(
        (stand) => stand.sleep_draw_a - 2 * stand.sleep_draw_u_a > limit.value && asleepS(r, stand) >= 1800,
      );
      return high && `${high.sleep_draw_a} A from ${high.start}`;
    },
  ),
  against(
    ['parked-draw', 'clear'],
    'loads that took most of the charge',
    'somebody must say what took it',
    (r, { limit }) => {
      const heldAh = loads(r).reduce((sum, load) => sum + load.charge_ah, 0);
      const outAh = r.parked.reduce((sum, stand) => sum + stand.charge_out_ah, 0);
      const isTold = isBad(r, 'held-awake') || isBad(r, 'sleep-time');
      return !isTold && heldAh > 0.5 * outAh && heldAh > 24 * limit.value && `${heldAh} Ah of ${outAh} Ah`;
    },
  ),
  against(
    ['stand-time', 'clear'],
    'a load that empties the battery before',
    'with that load it cannot stand for so long',
    (r, { limit }) => {
      const mostAh = 0.6 * (r.session.battery.capacity_ah ?? Number.POSITIVE_INFINITY);
      const load = loads(r).find(({ lastedS, mean_a }) => lastedS > 8 * 3600 && (mean_a * limit.value) / 3600 > mostAh);
      return load && `${load.mean_a} A for ${load.lastedS} s`;
    },
  ),
];

const CIRCUITS = [
  against(
    ['circuit-link', 'clear:', 'clear:settlings'],
    'a pattern with its circuit',
    'none goes with the wakes, and one does',
    (r) => {
      const tied = r.wake_patterns.find(({ channel }) => channel !== null);
      return tied && `wakes with “${tied.channel}”`;
    },
  ),
  against(
    ['circuit-link', 'undecided:no-wakes'],
    'wakes',
    '"no wakes", and wakes',
    (r) => r.wakes.length > 0 && `${r.wakes.length} wakes`,
  ),
  against(
    ['circuit-link', 'fault:'],
    'no link beyond luck',
    'hardly by chance, and by chance',
    (r) => !r.links.some(({ chance }) => chance < 0.05) && 'no link below 5 %',
  ),
  pair(['circuit-link', 'fault:'], ['wake-ups', 'clear'], 'a circuit at fault for wakes that cost little'),
  pair(
    ['circuit-link', 'fault:settlings'],
    ['sleep-time', 'clear'],
    'a circuit at fault for a sleep that comes in time',
  ),
];

const UNFIT = ['resting-charge', 'fault:empty', 'fault:cell', 'fault:not-held'];
const BATTERY = [
  pair(UNFIT, ['stand-time', 'clear'], 'an empty or failed battery starts nothing after a fortnight'),
  pair(
    ['resting-charge', 'fault:empty', 'fault:cell'],
    ['crank-voltage', 'clear'],
    'too little charge to start, and a start without fault',
  ),
  against(['deep-discharge', 'clear'], 'an empty lead-acid battery', 'empty, and never drained too deep', (r) => {
    // A lithium one is empty long before it takes harm.
    const empty = r.session.battery.chemistry !== 'lfp' && is(r, ['resting-charge', 'fault:empty']);
    return empty && told(empty);
  }),
  pair(['resting-charge', 'clear'], ['freeze-risk', 'fault'], 'well charged, and so low that it froze'),
  pair(['deep-discharge', 'fault'], ['stand-time', 'clear'], 'it may be damaged, and will start after a fortnight'),
  pair(
    ['battery-resistance', 'fault'],
    ['crank-voltage', 'clear'],
    'no power left to start, and a start without fault',
  ),
  pair(
    ['charging-low', 'fault'],
    ['charge-balance', 'clear'],
    'drives that put nothing back do not balance the stands',
  ),
  pair(
    ['charging-low', 'undecided:no-drive'],
    ['charging-high', 'clear', 'fault', 'watch'],
    'no drive to judge charging by, and charging judged',
  ),
  pair(['charging-high', 'clear'], ['battery-heat', 'fault'], 'charged too hard, and not too high'),
  pair(
    ['crank-voltage', 'undecided:no-starter'],
    ['battery-resistance', 'fault', 'watch', 'clear'],
    'no starter, and a resistance under its load',
  ),
  against(
    ['freeze-risk', 'clear:never-cold'],
    'hard frost',
    'an empty battery freezes near −9 °C (TM 5-3820-256-24-4)',
    (_, f) => f.measured?.value < -9.5 && `${f.measured.value} °C`,
  ),
  against(
    ['freeze-risk', 'clear'],
    'an empty battery in hard frost',
    'an empty battery freezes near −9 °C (TM 5-3820-256-24-4)',
    (r, f) =>
      is(r, ['resting-charge', 'fault:empty']) &&
      f.measured?.unit === '°C' &&
      f.measured.value < -9.5 &&
      `${f.measured.value} °C`,
  ),
  against(
    ['crank-voltage', 'clear'],
    'failed starts',
    'starting is in order, and starts failed',
    (r) => failed(r).length > 0 && `${failed(r).length} failed starts`,
  ),
  against(
    ['stand-time', 'clear'],
    'a last start that failed',
    'it starts after a fortnight, and did not today',
    (r) => {
      const last = failed(r).at(-1);
      return last && !r.drives.some(({ start }) => start >= last.start) && `no drive after ${last.start}`;
    },
  ),
  against(
    ['deep-discharge', 'clear'],
    'a lower voltage at rest',
    '"never below", and rested below',
    (r, { measured }) => {
      // Before the battery was changed it was another one's.
      const low = r.parked.find(
        (s) =>
          !is(r, ['supply-lost', 'watch:replaced']) &&
          s.rest_voltage_v !== null &&
          s.rest_voltage_v < measured.value - measured.uncertainty - 0.05,
      );
      return low && `${low.rest_voltage_v} V`;
    },
  ),
  against(
    ['resting-charge', 'undecided:no-stand'],
    'stands',
    '"no stand", and stands',
    (r) => r.parked.length > 0 && `${r.parked.length}`,
  ),
  against(
    ['charging-low', 'undecided:no-drive'],
    'drives',
    '"no drive", and drives',
    (r) => r.drives.length > 0 && `${r.drives.length}`,
  ),
  against(
    ['crank-voltage', 'undecided:no-crank'],
    'cranks',
    '"no crank", and cranks',
    (r) => r.cranks.length > 0 && `${r.cranks.length}`,
  ),
  against(
    ['charge-balance', 'clear'],
    'a charge that went',
    'drives and stands balance, and half of the charge went',
    (r) => {
      const lostAh = r.totals.charge_out_ah - r.totals.charge_in_ah;
      return (
        r.drives.length > 0 &&
        lostAh > 0.5 * (r.session.battery.capacity_ah ?? Number.POSITIVE_INFINITY) &&
        `${lostAh} Ah`
      );
    },
  ),
];

const RECORDING = [
  pair(
    ['current-zero', 'clear'],
    ['parked-draw', 'undecided:reads-charging'],
    'the zero is right, and the zero is off',
  ),
  pair(['current-zero', 'clear:'], ['parked-draw', 'undecided:zero-off'], 'the zero is right, and the zero is off'),
  pair(
    ['current-path', 'clear'],
    ['battery-resistance', 'undecided:path-in-doubt'],
    'all current passes the sensor, and perhaps not all',
  ),
  pair(['log-length', 'fault:no-sleep'], ['sleep-time', 'clear'], 'no sleep, and it fell asleep in time'),
  against(['log-coverage', 'clear'], 'holes and jumps', 'whole, and not whole', (r) => {
    const jumps = r.log.faults.filter(({ kind }) => kind === 'clock-jump').length;
    return (r.log.missing_s > 660 || jumps > 0) && `${r.log.missing_s} s missing, ${jumps} jumps of the clock`;
  }),
  against(['supply-lost', 'clear'], 'a disconnection', '"stayed connected", and was not', (r) => {
    const off = r.periods.find(
      ({ kind, start, end }) => kind === 'disconnected' && start > r.log.start && end < r.log.end,
    );
    return off && `disconnected at ${off.start}`;
  }),
  against(
    ['charger-seen', 'clear:'],
    'time on a charger',
    '"no charger", and a charger',
    // Less than five minutes may be an engine that coasts.
    (r) => kindS(r, 'on-charger') > 300 && `${kindS(r, 'on-charger')} s`,
  ),
  against(
    ['log-length', 'clear'],
    'less than an hour',
    'long enough, and less than an hour',
    (r) => r.log.covered_s < 3600 && `${r.log.covered_s} s`,
  ),
];

/** What no finding may call in order while a fault of the recording says that it cannot be known. */
const VOID = [
  [
    ['current-path', 'fault'],
    ['parked-draw', 'wake-ups', 'stand-time', 'charge-balance', 'held-awake', 'battery-resistance'],
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
  rule('with most of the time missing nothing of the vehicle is clear', 'what is left may be the wrong part', (r) => {
    const coverage = is(r, ['log-coverage', 'fault']);
    const clear = r.findings.filter((f) => f.status === 'clear' && !isOfLog(f)).map(({ check }) => check);
    return coverage?.measured?.value > 0.5 && clear.length > 0 && clear.join(', ');
  }),
);

/** What may follow from what: by physics alone. A draw asleep and wakes do not make each other; beyond the posts nothing lowers the posts' voltage. */
const FOLLOWS = {
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
  'crank-voltage': ['deep-discharge', 'resting-charge', 'battery-resistance'],
  'battery-resistance': ['resting-charge', 'deep-discharge'],
  'charge-balance': ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time'],
  'battery-heat': ['charging-high'],
};

const ALL_CLEAR = /\bno fault\b|keinen Fehler|kein Fehler|nothing is wrong|everything (is )?in order|alles in Ordnung/i;
const isAllClear = (r) => ALL_CLEAR.test(r.summary.answer);
const said = (r) => Object.values(r.summary).flat().filter(Boolean);
const advice = (r) => [r.summary.suggest, r.summary.until_then].flat();
/** Figures of a text, with signs and separators of any language taken alike. */
const figures = (text) => (text.match(/\d+(?:[.,]\d+)*/g) ?? []).map((one) => one.replace(',', '.'));

const PAGE_ONE = [
  rule(
    'no all-clear above a fault',
    'whatever the fault is of',
    (r) =>
      isAllClear(r) &&
      r.findings.some(({ status }) => status === 'fault') &&
      `“${r.summary.answer}” above ${faults(r)}`,
  ),
  rule('no all-clear above something to watch', 'what is worth a look is not nothing', (r) => {
    const watched = r.findings.filter((f) => f.status === 'watch' && !isOfLog(f));
    return isAllClear(r) && watched.length > 0 && `“${r.summary.answer}” above ${watched.map(told).join(', ')}`;
  }),
  rule('an all-clear rests on what was seen', 'draw, sleep and wakes are what it speaks of', (r) => {
    const open = ['parked-draw', 'sleep-time', 'wake-ups'].filter((check) => !is(r, [check, 'clear']));
    return isAllClear(r) && open.length > 0 && `“${r.summary.answer}” with ${open.join(', ')} not clear`;
  }),
  rule(
    'no all-clear above starts that failed',
    'a vehicle that does not start is not in order',
    (r) => isAllClear(r) && failed(r).length > 0 && `${failed(r).length} failed starts`,
  ),
  rule('a fault of the vehicle is named first', 'the customer reads no further', (r) => {
    const heads = r.findings.filter((f) => f.status === 'fault' && !isOfLog(f) && f.follows === null);
    return (
      heads.length > 0 &&
      !r.summary.found.some((line) => heads.some((f) => f.plain === line)) &&
      heads.map(told).join(', ')
    );
  }),
  rule('every figure of page one stands in the technician’s part', 'nobody can check it elsewhere', (r) => {
    const known = new Set(figures(r.findings.flatMap((f) => [f.title, f.detail, f.reason ?? '']).join(' ')));
    const lost = r.summary.found.flatMap(figures).filter((one) => !known.has(one));
    return lost.length > 0 && lost.join(', ');
  }),
  rule('no longer drive for a battery that does not start', 'nobody can drive it', (r) => {
    const cannot =
      is(r, UNFIT) || (failed(r).length > 0 && !r.drives.some(({ start }) => start >= failed(r).at(-1).start));
    const lines = advice(r).filter((line) =>
      /longer drive|[Dd]rive it often|längere Fahrt|[Ff]ahren Sie öfter/.test(line),
    );
    return cannot && lines.length > 0 && lines.join(' ');
  }),
  rule('no charging advice for a battery that may be frozen', 'a frozen one can burst (US Army OD 1002)', (r) => {
    const frozen = is(r, ['freeze-risk', 'fault', 'watch:in-doubt']);
    const lines = advice(r).filter((line) =>
      /have the battery charged|Batterie laden lassen|charge the battery (slowly|fully)/i.test(line),
    );
    return frozen && lines.length > 0 && lines.join(' ');
  }),
  rule('nothing is said twice', 'a reader looks for the difference', (r) => {
    const lines = [r.summary.found, r.summary.means, r.summary.suggest, r.summary.until_then, r.summary.not_yet].flat();
    const twice = lines.filter((line, k) => lines.indexOf(line) !== k);
    return twice.length > 0 && twice.join(' ');
  }),
  rule('titles are as a person says them', 'the uncertainty stays in the detail; 0 days are none', (r) => {
    const odd = r.findings
      .map(({ title }) => title)
      .filter((title) => /±|NaN|undefined|\b0 (days|Tage)|\b1 (times|Mal) /.test(title));
    return odd.length > 0 && odd.join('; ');
  }),
  rule('no figure is missing', 'a word of the program is none for a reader', (r) => {
    const odd = [...said(r), ...r.findings.flatMap((f) => [f.title, f.plain, f.detail])].filter((text) =>
      /NaN|undefined|\{\{|Infinity|\bnull\b/.test(text),
    );
    return odd.length > 0 && odd[0];
  }),
];

const ACCOUNTS = [
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

const faults = (r) =>
  r.findings
    .filter(({ status }) => status === 'fault')
    .map(told)
    .join(', ');

export const AGREEMENTS = [...SLEEP, ...CIRCUITS, ...BATTERY, ...RECORDING, ...VOID, ...PAGE_ONE, ...ACCOUNTS];

/** What in a report does not agree, one line each; empty for a report that does. */
export function disagreements(report) {
  return AGREEMENTS.flatMap(({ name, broken }) => {
    const found = broken(report);
    return found ? [`${name}: ${found}`] : [];
  });
}
