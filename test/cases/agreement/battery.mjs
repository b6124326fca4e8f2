// The battery, starting and charging; and the recording.

import { against, asleepS, failed, is, kindS, pair, told, within } from './reading.mjs';

const fedWithinS = (r, stand) =>
  within(r, stand).reduce((sum, p) => sum + (p.kind === 'on-charger' ? p.seconds : 0), 0);
const SWITCHED_OFF = ['supply-lost', 'watch:cut-off'];
export const UNFIT = ['resting-charge', 'fault:empty', 'fault:cell', 'fault:not-held'];
export const BATTERY = [
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
  against(['stand-time', 'fault:now'], 'a later charge', '"as it is now" is what it last was', (r) => {
    const last = r.parked.findLast(({ state_of_charge }) => state_of_charge !== null);
    return last && last.state_of_charge - last.state_of_charge_u > 0.5 && `${last.state_of_charge} at ${last.end}`;
  }),
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
  against(
    ['charging-high', 'clear'],
    'a higher voltage that was reached',
    '"no higher than 12.9 V", and 14.4 V reached',
    (r, f) => {
      const reached = is(r, ['charging-low', 'clear'])?.measured?.value ?? 0;
      const isMost = /no higher than|steigt nicht über/.test(f.title);
      return isMost && reached > f.measured.value && `${reached} V reached`;
    },
  ),
  against(
    ['charging-low', 'watch:not-full'],
    'a battery that was filled',
    '"it may never get there", and it did',
    (r, f) => is(r, ['resting-charge', 'clear']) && /never get there|wird es nie/.test(f.plain) && f.plain,
  ),
  against(
    ['resting-charge', 'undecided:above-full'],
    'a rest that any full battery has',
    '"no lead-acid battery rests so high", of 12.58 V',
    (r, { reason }) => {
      const volts = Number(/(\d+[.,]\d+) V/.exec(reason)?.[1].replace(',', '.'));
      return volts <= (13.2 * r.session.vehicle.system_voltage_v) / 12 && reason;
    },
  ),
  against(
    ['freeze-risk', 'clear'],
    'a battery that is not full enough',
    '"full enough" for the cold, and not full enough',
    (r, f) => is(r, ['resting-charge', 'fault']) && /full enough|voll genug/.test(f.plain) && f.plain,
  ),
  against(
    ['crank-voltage', 'fault'],
    'a drive of which it is said that it never was',
    '"it may have run", and "it never ran"',
    (r, f) => {
      const drive = is(r, ['charging-low', 'undecided:no-drive']);
      return f.variant === 'may-have-run' && /never ran|lief nie/.test(drive?.reason ?? '') && drive.reason;
    },
  ),
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
    ['charge-balance', 'clear', 'fault', 'watch'],
    'no drive',
    '"your drives put back", and none was seen',
    (r, f) => r.drives.length === 0 && /your drives|Ihre Fahrten/i.test(f.plain) && f.plain,
  ),
  against(
    ['log-length', 'fault:no-sleep'],
    'a stand of hours',
    '"never parked for long enough", and parked for hours with current seen',
    (r) => r.parked.some((stand) => asleepS(r, stand) > 3600) && 'more than an hour asleep',
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

BATTERY.push(
  pair(
    ['crank-voltage', 'fault:no-start', 'watch:no-start'],
    ['resting-charge', 'fault:empty', 'fault:cell'],
    'the battery held up, and was empty',
  ),
  pair(
    ['crank-voltage', 'fault:no-start', 'watch:no-start'],
    ['deep-discharge', 'watch:empty'],
    'the battery held up, and was empty',
  ),
  pair(['resting-charge', 'fault:cell'], ['deep-discharge', 'fault', 'watch'], 'a cell has failed, and it was drained'),
  pair(
    ['resting-charge', 'fault:not-held', 'watch:not-held'],
    ['stand-time', 'clear'],
    'it empties itself, and stands',
  ),
  pair(
    ['crank-voltage', 'fault:contact'],
    ['stand-time', 'clear'],
    'a contact gives way, and it starts after a fortnight',
  ),
  pair(SWITCHED_OFF, ['deep-discharge', 'clear'], 'it switched itself off because it was empty, and was not drained'),
  against(SWITCHED_OFF, 'a stand at no current at all', 'the switch was open, and it slept at 0 mA', (r) => {
    const none = r.parked.find(
      (s) => s.sleep_draw_a !== null && Math.abs(s.sleep_draw_a) < 1e-4 && asleepS(r, s) > 3600,
    );
    return none && `${none.sleep_draw_a} A from ${none.start}`;
  }),
  against(
    ['charge-balance', 'watch'],
    'a battery that was empty',
    '"not low yet", and all but empty',
    (r, f) => is(r, ['deep-discharge', 'fault', 'watch']) && /not low yet|noch nicht schwach/.test(f.plain) && f.plain,
  ),
);

export const RECORDING = [
  against(
    ['circuit-link', 'clear', 'clear:settlings'],
    'a load beside which the same circuit was on',
    'the circuit has nothing to do with it, and was on meanwhile',
    (r, f) => {
      const [, on] = is(r, ['held-awake', 'fault', 'watch'])?.detail.match(/[“„]([^”“]+)[”“] (?:was on|war ein)/) ?? [];
      return on && f.variant !== 'linked' && f.detail.includes(on) && `“${on}” was on while a load stayed`;
    },
  ),
  against(
    ['parked-draw', 'undecided:reads-charging'],
    'hours of feeding',
    '"with nothing there to charge it", and something did',
    (r) =>
      kindS(r, 'on-charger') > 4 * 3600 &&
      r.parked.every((stand) => fedWithinS(r, stand) > 3600) &&
      'fed in every stand',
  ),
  against(
    ['current-zero', 'fault'],
    'a feeding in the stand that it rests on',
    'a sensor accused of what the sun did',
    (r, f) =>
      f.variant !== 'while-off' &&
      r.parked.length > 0 &&
      r.parked.every((stand) => fedWithinS(r, stand) > 3600) &&
      'fed in every stand',
  ),
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
  against(['log-length', 'watch:short'], 'no current', '"a full sleep", and sleep cannot be seen', (r, f) => {
    const isSeen = r.totals.asleep_s > 0 || r.parked.some(({ sleep_draw_a }) => sleep_draw_a !== null);
    return !isSeen && /full sleep|vollen Schlaf/.test(f.title) && f.title;
  }),
  against(
    ['circuit-link', 'fault:settlings'],
    'quick settlings with the circuit on',
    '"in time it is off", and it was on',
    (_, f) => {
      const [, on] = f.detail.match(/(?:in|und in) (\d+) (?:of|von) \d+ (?:quick|schnellen)/) ?? [];
      return Number(on) > 0 && /(mostly |is )off|(meist )?aus\./.test(f.plain) && f.plain;
    },
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
