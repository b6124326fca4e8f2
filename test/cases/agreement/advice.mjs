// What a technician is told to do against what was done, and what one sentence says against another's.

import { against, failed, is, loads, pair, rule } from './reading.mjs';

const steps = (r, check) => r.findings.find((f) => f.check === check)?.next_steps.join(' ') ?? '';
const systems = (r) => r.session.vehicle.system_voltage_v / 12;
const isLead = (r) => r.session.battery.chemistry !== 'lfp';

/** The most that went out from a key-off until the vehicle slept, whatever it is called, Ah; of loads that are told stand against stand the draw tells. */
const mostSettlingAh = (r) => {
  const isTold = is(r, ['held-awake', 'fault:load']);
  const settled = r.parked.filter(({ key_off_in_log, time_to_sleep_s }) => key_off_in_log && time_to_sleep_s !== null);
  const all = settled.map(({ account }) => (account ? account.settling_ah + (isTold ? 0 : account.held_ah) : 0));
  return Math.max(0, ...all);
};

/** What went out in so many seconds from a time on, less what came in, Ah; of each period its share. */
const goneAh = (r, from, seconds) =>
  r.periods.reduce((sum, p) => {
    const [start, end] = [Date.parse(p.start) / 1000, Date.parse(p.end) / 1000];
    const inside = Math.min(end, from + seconds) - Math.max(start, from);
    return inside > 0 ? sum + ((p.charge_out_ah - p.charge_in_ah) * inside) / (end - start) : sum;
  }, 0);

/** Not in a single rest; and it was not drained in between. */
const wasNeverLow = (r) =>
  !is(r, ['deep-discharge', 'fault', 'watch']) &&
  r.parked.every((s) => s.state_of_charge === null || s.state_of_charge - s.state_of_charge_u > 0.75);

export const ADVICE = [
  rule('no figure is asked for that the manifest states', 'nobody reads on', (r) => {
    const stated = (r.session.battery.capacity_ah ?? null) !== null;
    const isAsked = /battery's capacity into the manifest|Kapazität der Batterie/.test(steps(r, 'stand-time'));
    return stated && isAsked && is(r, ['stand-time', 'undecided']) && steps(r, 'stand-time');
  }),
  rule('no rest is asked for that was there', 'it rested for nights, and its voltage is what leaves it open', (r) => {
    const open = is(r, ['resting-charge', 'undecided:limit-within-uncertainty']);
    return open && /^Let the battery rest|^Die Batterie eine Nacht/.test(steps(r, 'resting-charge')) && open.reason_key;
  }),
  rule('no days to stand of a draw that is in doubt', '"24 mA, if the sensor is right", and "5 to 50 days"', (r) => {
    const draw = is(r, ['parked-draw', 'undecided:in-doubt']);
    const stand = is(r, ['stand-time', 'clear', 'undecided:limit-within-uncertainty', 'undecided:sometimes-awake']);
    return draw && stand?.measured && `${stand.title}, ${stand.reason ?? ''}`;
  }),
  against(
    ['sleep-time', 'clear'],
    'a shorter longest time awake',
    '"asleep within 33 min at the most", and "never awake for longer than 29 min"',
    (r, { measured }) => {
      const held = is(r, ['held-awake', 'clear:']);
      const U = (measured?.uncertainty ?? 0) + (held?.measured?.uncertainty ?? 0);
      return (
        held?.measured && measured?.value > held.measured.value + U && `${measured.value} > ${held.measured.value} s`
      );
    },
  ),
  rule(
    'a converter that topped up is seen to',
    '"it charged its battery by itself while it stood", and no top-up',
    (r) => {
      const told = is(r, ['stand-time', 'undecided:topped-up']) ?? is(r, ['charger-seen', 'undecided:own-converter']);
      const openAh = r.periods
        .filter(({ kind }) => kind === 'unknown' || kind === 'on-charger')
        .reduce((sum, p) => sum + p.charge_in_ah, 0);
      return told && r.portrait?.top_ups.count === 0 && openAh < 0.5 && told.reason;
    },
  ),
  rule('no fear of days where weeks are told', '"29 to 89 days", and "do not let it stand for days"', (r) => {
    const lines = r.summary.until_then.filter((line) => /stand for days|tagelang/.test(line));
    return is(r, ['stand-time', 'clear']) && lines.length > 0 && lines.join(' ');
  }),
  rule('no all-clear of days where a key-off may take them', 'a relay that sticks now and then took 12 Ah', (r) => {
    const capacityAh = r.session.battery.capacity_ah ?? 60;
    return is(r, ['stand-time', 'clear']) && mostSettlingAh(r) > capacityAh / 4 && `${mostSettlingAh(r)} Ah`;
  }),
  rule('what once ran on after a key-off is kept back from the days', '"29 to 89 days", and 12 of 60 Ah', (r) => {
    const capacityAh = r.session.battery.capacity_ah ?? 60;
    const f = is(r, ['stand-time', 'clear']);
    const isKept = /kept back|abgezogen sind/.test(f?.detail ?? '');
    return f && !isKept && mostSettlingAh(r) > capacityAh / 8 && `${mostSettlingAh(r)} Ah`;
  }),
  against(
    ['crank-voltage', 'fault:no-start', 'fault:no-start-open', 'watch:no-start', 'watch:no-start-open'],
    'as much after each as a drive without charging takes',
    '"the engine did not start", and it may have run',
    (r) => {
      const leastAh = (600 * 5 * 12) / r.session.vehicle.system_voltage_v / 3600;
      const after = failed(r).map(({ start, seconds }) => goneAh(r, Date.parse(start) / 1000 + seconds, 600));
      return after.length > 0 && after.every((ah) => ah > 1.05 * leastAh) && `${after.join(', ')} Ah`;
    },
  ),
  against(
    ['sleep-time', 'fault'],
    'a circuit that is named, and asked for',
    '"put the circuits on channels", and one of them goes with it',
    (r) =>
      is(r, ['circuit-link', 'fault:settlings', 'fault:settlings-without']) &&
      /suspected circuits|verdächtigen Stromkreise/.test(`${steps(r, 'sleep-time')} ${steps(r, 'held-awake')}`) &&
      steps(r, 'sleep-time'),
  ),
  rule(
    'a loss that follows from something asks for no guess',
    '"or the drives are too short", below a dead alternator',
    (r) => {
      const f = is(r, ['charge-balance', 'fault']);
      return (
        f?.follows &&
        /Either too much|Entweder wird|longer drive|längeren Fahrt/.test(`${f.plain} ${f.next_steps}`) &&
        f.plain
      );
    },
  ),
  rule('no stand is asked for that was logged', 'its rest is what leaves the days open', (r) => {
    const nights = r.parked.filter((s) => s.sleep_draw_a !== null && s.rest_voltage_v !== null);
    const isAsked = /Log one stand of at least a night|Standzeit von mindestens einer Nacht/.test(
      steps(r, 'stand-time'),
    );
    return is(r, ['stand-time', 'undecided:no-charge']) && nights.length > 0 && isAsked && steps(r, 'stand-time');
  }),
  rule('why nothing is known is said first', 'a log that is 90 % missing, or lasts three hours', (r) => {
    const log = r.findings.filter(({ check, status }) => status === 'fault' && /^log-(length|coverage)$/.test(check));
    const isOpen = ['parked-draw', 'sleep-time', 'wake-ups'].every((check) => is(r, [check, 'undecided']));
    return (
      isOpen && log.length > 0 && r.summary.found.every((line) => log.every((f) => f.plain !== line)) && log[0].title
    );
  }),
  against(
    ['wake-ups', 'fault:cycles'],
    'a circuit that goes with them',
    '"tell us whether a fridge was on", and the circuit is named',
    (r) => r.wake_patterns[0]?.channel,
  ),
  against(
    ['held-awake', 'fault:load'],
    'days that a load of each day does not leave',
    '"6 days", and each day took 30 % of the battery',
    (r, { title }) => {
      const on = loads(r);
      const stand = is(r, ['stand-time', 'clear', 'fault', 'undecided:limit-within-uncertainty']);
      if (!/each day|jeden Tag|täglich/.test(title) || !stand?.measured || on.length === 0) return false;
      const dayAh = on.reduce((sum, { charge_ah }) => sum + charge_ah, 0) / on.length;
      const lowDays = (stand.measured.value - stand.measured.uncertainty) / 86_400;
      return lowDays * dayAh > (r.session.battery.capacity_ah ?? 60) && `${lowDays} days of ${dayAh} Ah`;
    },
  ),
  rule('what another finding puts in doubt asks for nothing itself', 'the other one says what to do', (r) => {
    const odd = r.findings.filter((f) => f.reason_key === 'in-doubt' && f.next_steps.length > 0);
    return odd.length > 0 && odd.map(({ check }) => check).join(', ');
  }),
  against(
    ['wake-ups', 'fault'],
    'a circuit that is told, and asked for',
    '"put the circuits on channels", and one of them goes with the wakes',
    (r, f) =>
      /“|„/.test(f.plain) &&
      /Put the suspected circuits|Die verdächtigen Stromkreise auf/.test(steps(r, 'wake-ups')) &&
      f.plain,
  ),
  against(
    ['held-awake', 'fault:load'],
    'a load that is there nearly each time',
    '"ask what was different" where nothing was',
    (r, f) => {
      const [, some, all] = /(\d+) (?:of|von) (\d+)/.exec(f.title) ?? [];
      const isRule = Number(all) >= 3 && Number(some) >= 0.75 * Number(all);
      return isRule && /what was different|anders war/.test(steps(r, 'held-awake')) && f.title;
    },
  ),
  against(
    ['crank-voltage', 'fault'],
    'a battery that was charged',
    '"simply not charged", and it was well charged at rest',
    (r, f) =>
      is(r, ['resting-charge', 'clear']) &&
      wasNeverLow(r) &&
      /simply not charged|auch nur nicht voll/.test(f.plain) &&
      f.plain,
  ),
  pair(
    ['crank-voltage', 'fault:', 'fault:too-weak'],
    ['stand-time', 'clear'],
    '"do not count on it to start", and it may stand for weeks',
  ),
  against(
    ['battery-resistance', 'watch'],
    'a customer who told of slow starts',
    '"it starts well, there is no hurry" of what was brought in for starting badly',
    (_, f) => /no hurry|eilt also nicht/.test(f.plain) && f.plain,
  ),
  against(
    ['current-range', 'watch'],
    'a resistance that no start gave',
    '"the resistance holds", and there is none',
    (r, f) =>
      r.cranks.every(({ resistance_ohm }) => resistance_ohm === null) &&
      /and holds|und gilt/.test(f.detail) &&
      f.detail,
  ),
  against(
    ['current-path', 'undecided:too-little-seen'],
    'starts',
    '"the log holds no start", and starts',
    (r, f) => r.cranks.length > 0 && /holds no start,|enthält keinen Start und/.test(f.reason) && f.reason,
  ),
  against(
    ['charge-balance', 'clear'],
    'a gain that is no balance',
    '"drives and stands balance", and far more went in than out',
    (r, { measured, title }) =>
      measured.value - measured.uncertainty > 0.1 * (r.session.battery.capacity_ah ?? 60) &&
      /balance:|gleichen sich aus/.test(title) &&
      title,
  ),
  rule('a loss by drives that charge nothing is none on purpose', 'the first line says what is wrong', (r) => {
    const low = is(r, ['charging-low', 'watch:some-drives', 'watch:at-times', 'watch:stops', 'watch:at-first']);
    const lines = r.summary.found.filter((line) => /on purpose|mit Absicht/.test(line));
    return low && is(r, ['charge-balance', 'watch']) && lines.length > 0 && lines.join(' ');
  }),
  against(
    ['resting-charge', 'clear', 'fault', 'watch'],
    'a rest that no lead-acid battery has',
    'a cell has its acid’s density and 0.84 V: 13.2 V would take 1.36',
    (r) => {
      const high = r.parked.find((s) => s.state_of_charge !== null && s.rest_voltage_v - 0.05 > 13.2 * systems(r));
      return isLead(r) && high && `${high.rest_voltage_v} V from ${high.start}`;
    },
  ),
  against(
    ['circuit-link', 'clear:settlings'],
    'a circuit that is off each time',
    '"it has nothing to do with it", and it was off in each slow settling and on in all the others',
    (r) => {
      const off =
        r.links.length === 1 &&
        r.links.find(
          ({ settlings: s }) =>
            s && s.slow_seen >= 3 && s.slow_with === 0 && s.quick_seen >= 9 && s.quick_with === s.quick_seen,
        );
      return off?.channel;
    },
  ),
  rule('a circuit that is off is not told to be on', 'page one and the finding', (r) => {
    const lines = r.summary.found.filter((line) => /is on at the same time|gleichzeitig ein/.test(line));
    return is(r, ['circuit-link', 'fault:settlings-without']) && lines.length > 0 && lines.join(' ');
  }),
  rule('what charges in bursts rests in between', '"in short bursts", and as much flows in between', (r) => {
    const { bursts } = r.portrait ?? {};
    return bursts && bursts.between_current_a > 0.5 * bursts.current_a.p50 && `${bursts.between_current_a} A`;
  }),
  pair(
    ['crank-voltage', 'watch:chatters'],
    ['resting-charge', 'fault:empty', 'fault:cell'],
    '"the battery is not the reason", and it was empty',
  ),
];
