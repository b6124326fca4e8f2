// Sleep, what disturbs it, and the circuits that go with it.

import { against, asleepS, is, isBad, isDisturbed, loads, pair } from './reading.mjs';

export const SLEEP = [
  against(
    ['sleep-time', 'watch:costly'],
    'a load of hours from key-off',
    '"all slept in time", and one did not',
    (r) => {
      const load = loads(r).find(
        ({ stand, start, lastedS }) => stand.key_off_in_log && start === stand.start && lastedS > 7200,
      );
      return load && `${load.lastedS} s from ${load.start}`;
    },
  ),
  pair(
    ['held-awake', 'clear:late'],
    ['sleep-time', 'clear'],
    '"falls asleep late, as told elsewhere", and told nowhere',
  ),
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
    'a load that came on in mid-stand',
    '"once asleep, it stayed asleep", and something came on',
    (r) => {
      const load = loads(r).find(({ stand, start }) => start > stand.start);
      return load && `${load.lastedS} s at ${load.mean_a} A from ${load.start}`;
    },
  ),
  against(
    ['sleep-time', 'fault:never-asleep'],
    'a load that is why',
    'a lamp keeps no computer awake',
    (_, f) => f.follows === 'held-awake' && /computers|Rechner/.test(f.plain) && f.plain,
  ),
  pair(
    ['held-awake', 'fault:load'],
    ['circuit-link', 'undecided:no-wakes'],
    '"neither woke nor slept late", and something stayed on',
  ),
  against(
    ['parked-draw', 'clear'],
    'other faults while parked',
    '"parked it uses no more than it should" is true of its sleep alone',
    (r, f) => {
      const isOne = ['held-awake', 'sleep-time', 'wake-ups'].some((check) => is(r, [check, 'fault']));
      return isOne && !/\. (But|Es schlief)/.test(f.plain) && f.plain;
    },
  ),
  against(['wake-ups', 'fault'], 'a period that is not that of most wakes', '"every 2 h", and 64 a day', (r, f) => {
    const [dearest] = r.wake_patterns;
    const isSaid = / every |alle /.test(f.title);
    return (
      isSaid &&
      dearest &&
      r.wakes.length > 1.6 * dearest.count &&
      `${r.wakes.length} wakes, ${dearest.count} of them by that clock`
    );
  }),
  against(
    ['held-awake', 'fault:load'],
    'a sleeping level into the battery',
    'nothing sleeps at a current that charges',
    (r) => {
      const odd = r.parked.find(({ sleep_draw_a }) => sleep_draw_a !== null && sleep_draw_a < -0.05);
      return odd && `${odd.sleep_draw_a} A from ${odd.start}`;
    },
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

export const CIRCUITS = [
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
