// What a right answer holds, as small predicates over report.json. Each is {what, holds, got, later}: `later` marks names of the
// contract that are still to come, so that they can be counted apart.

import { disagreements } from '../cases/agreement.mjs';

export const finding = (report, check) => report.findings.find((f) => f.check === check);
const expectation = (what, holds, got) => ({ what, holds, got });
export const later = (list) => [list].flat().map((e) => ({ ...e, later: true }));

/** The check's status is one of these. */
export const is = (check, ...allowed) =>
  expectation(
    `${check} is ${allowed.join(' or ')}`,
    (r) => allowed.includes(finding(r, check)?.status),
    (r) => `${finding(r, check)?.status}: ${finding(r, check)?.title}`,
  );
export const bad = (check) => is(check, 'fault', 'watch');
export const not = (check, status) =>
  expectation(
    `${check} is not ${status}`,
    (r) => finding(r, check) !== undefined && finding(r, check).status !== status,
    (r) => `${finding(r, check)?.status}: ${finding(r, check)?.title}`,
  );
/** No check is at fault but these. */
export const sound = (...but) =>
  expectation(
    `no fault${but.length ? ` but ${but.join(', ')}` : ''}`,
    (r) => faults(r, but).length === 0,
    (r) => faults(r, but).join(', '),
  );
const faults = (r, but) =>
  r.findings.filter((f) => f.status === 'fault' && !but.includes(f.check)).map((f) => `${f.check} (${f.title})`);

export const near = (what, want, tolerance, get) =>
  expectation(
    `${what} ${round(want)} ± ${round(tolerance)}`,
    (r) => {
      const x = get(r);
      return typeof x === 'number' && Math.abs(x - want) <= tolerance + 1e-12;
    },
    (r) => round(get(r)),
  );
export const count = (what, want, get, tolerance = 0) => near(`number of ${what}`, want, tolerance, get);
export const that = (what, holds, got = () => 'no') => expectation(what, holds, got);
const round = (x) => (typeof x === 'number' ? Number(x.toPrecision(4)) : String(x));

const seconds = (from, to) => (Date.parse(to) - Date.parse(from)) / 1000;
export const longest = (r) => [...r.parked].sort((a, b) => seconds(b.start, b.end) - seconds(a.start, a.end))[0];
export const drives = (n, tolerance) => count('drives', n, (r) => r.drives.length, tolerance);
export const cranks = (n, tolerance) => count('cranks', n, (r) => r.cranks.length, tolerance);
export const wakes = (n, tolerance) => count('wakes', n, (r) => r.wakes.length, tolerance);
/** Stands of five minutes and more: what a log's first and last rows make of themselves does not count. */
export const stands = (n, tolerance) =>
  count('parked periods', n, (r) => r.parked.filter((p) => seconds(p.start, p.end) >= 300).length, tolerance);
/** Draw asleep of the longest stand, in amperes: 3 % and the stated 3 mA's half hold for a sound sensor. */
export const asleep = (A, tolerance = 0.03 * A + 0.0015) =>
  near('sleep draw', A, tolerance, (r) => longest(r)?.sleep_draw_a);
export const settles = (s, tolerance = 0.03 * s + 20) =>
  near('time to sleep', s, tolerance, (r) => longest(r)?.time_to_sleep_s);
export const kindSeconds = (r, kind) => r.periods.filter((p) => p.kind === kind).reduce((sum, p) => sum + p.seconds, 0);
/** Driving time within 3 % and half a minute for each drive. */
export const driving = (t, share = 0.03) => {
  const s = t.drives.reduce((sum, d) => sum + d.end - d.start, 0);
  return near('driving time', s, share * s + 20 * t.drives.length, (r) => r.totals.driving_s);
};
/** Charge in and out of the whole log within `share`, and within what its rows can show of the truth (trapezium rule over them). */
export const totals = (v, share = 0.03) => [
  near(
    'charge in',
    v.truth.inAh,
    share * v.truth.inAh + 0.03 + Math.abs(v.truth.inAh - logged(v).inAh),
    (r) => r.totals.charge_in_ah,
  ),
  near(
    'charge out',
    v.truth.outAh,
    share * v.truth.outAh + 0.03 + Math.abs(v.truth.outAh - logged(v).outAh),
    (r) => r.totals.charge_out_ah,
  ),
];
/** The balance alone: where the current swings round zero, in and out each depend on how finely one looks. */
export const net = (v, share = 0.02) => {
  const { inAh, outAh } = v.truth;
  const l = logged(v);
  return near(
    'charge in less out',
    inAh - outAh,
    share * (inAh + outAh) + 0.05 + Math.abs(inAh - outAh - l.inAh + l.outAh),
    (r) => r.totals.charge_in_ah - r.totals.charge_out_ah,
  );
};
function logged({ rows: { t, a } }) {
  const sum = { inAh: 0, outAh: 0 };
  for (let k = 1; k < t.length; k++) {
    const ah = ((a[k] + a[k - 1]) / 2) * ((t[k] - t[k - 1]) / 3600);
    if (ah > 0) sum.inAh += ah;
    else sum.outAh -= ah;
  }
  return sum;
}
export const noCharger = that(
  'nothing is called a charger',
  (r) => !['fault', 'watch'].includes(finding(r, 'charger-seen').status) && kindSeconds(r, 'on-charger') === 0,
  (r) => `${Math.round(kindSeconds(r, 'on-charger'))} s on-charger; ${finding(r, 'charger-seen').title}`,
);
/** What page one says first names no all-clear. */
const ALL_CLEAR = /\bno fault\b|nothing is wrong|nothing wrong|all is well|everything (is )?in order|is in order\b/i;
export const allClear = (text) => ALL_CLEAR.test(text ?? '');
export const notAllClear = that(
  'page one gives no all-clear',
  (r) => !allClear(r.summary.answer),
  (r) => r.summary.answer,
);
const CANNOT = /cannot say|not let us say|can't say|cannot tell/i;
export const plainAnswer = that(
  'page one gives an answer',
  (r) => !CANNOT.test(r.summary.answer),
  (r) => r.summary.answer,
);
export const says = (what, pattern, ...checks) =>
  that(
    what,
    (r) => pattern.test(spoken(r, checks)),
    (r) => spoken(r, checks).slice(0, 300),
  );
const spoken = (r, checks) =>
  checks.length
    ? checks
        .map((c) => {
          const f = finding(r, c);
          return `${f.title} ${f.plain} ${f.detail} ${f.reason ?? ''}`;
        })
        .join(' ')
    : JSON.stringify([r.summary, r.findings.map((f) => [f.title, f.plain, f.detail])]);

/** Loads that stay: `want` are {start, end, A} in seconds from the log's begin, each found within a tenth. */
export const held = (vehicle) =>
  later(
    that(
      `held loads of ${vehicle.truth.held.length} stands`,
      (r) => {
        const found = r.parked.flatMap((p) => p.held ?? []);
        const s = (iso) => (Date.parse(iso) - vehicle.begin) / 1000;
        return vehicle.truth.held.every((h) =>
          found.some(
            (f) =>
              Math.abs(f.mean_a - h.A) < 0.1 * h.A + 0.005 &&
              Math.abs(s(f.end) - h.end) < 0.05 * (h.end - h.start) + 300 &&
              Math.abs(s(f.start) - h.start) < 0.05 * (h.end - h.start) + 1300,
          ),
        );
      },
      (r) => JSON.stringify(r.parked.map((p) => p.held)).slice(0, 200),
    ),
  );
export const events = (kind, n) =>
  later(count(`events ${kind}`, n, (r) => r.events?.filter((e) => e.kind === kind).length));
export const unknownSeconds = (least) =>
  later(
    that(
      `at least ${least} s unknown`,
      (r) => kindSeconds(r, 'unknown') >= least,
      (r) => kindSeconds(r, 'unknown'),
    ),
  );

const CHECKS =
  'parked-draw sleep-time wake-ups held-awake circuit-link stand-time resting-charge deep-discharge freeze-risk crank-voltage battery-resistance charging-low charging-high charge-balance battery-heat circuit-drop log-coverage log-length current-direction current-path current-zero current-range current-resolution charger-seen supply-lost'.split(
    ' ',
  );
const LOG_CHECKS = new Set(CHECKS.slice(16));

/** What holds for every report, whatever the vehicle. */
export const invariants = [
  that(
    'the report agrees with itself',
    (r) => disagreements(r).length === 0,
    (r) => disagreements(r).join(' || '),
  ),
  that('every check stands once', (r) => CHECKS.every((c) => r.findings.filter((f) => f.check === c).length === 1)),
  that(
    'undecided has a reason',
    (r) => r.findings.every((f) => f.status !== 'undecided' || f.reason),
    (r) =>
      r.findings
        .filter((f) => f.status === 'undecided' && !f.reason)
        .map((f) => f.check)
        .join(),
  ),
  that(
    'no all-clear above a fault',
    (r) => !(allClear(r.summary.answer) && r.findings.some((f) => f.status === 'fault')),
    (r) => `${r.summary.answer} / ${faults(r, []).join()}`,
  ),
  that(
    'no clean answer to the vehicle above a fault of the vehicle',
    (r) =>
      !(
        allClear(r.summary.found.join(' ')) && r.findings.some((f) => f.status === 'fault' && !LOG_CHECKS.has(f.check))
      ),
    (r) => r.summary.found.join(' '),
  ),
  that(
    'periods are in order, without overlap',
    (r) => r.periods.every((p, k) => p.end >= p.start && (k === 0 || p.start >= r.periods[k - 1].end)),
    (r) => JSON.stringify(r.periods.find((p, k) => k > 0 && p.start < r.periods[k - 1].end)),
  ),
  that(
    'periods cover the log',
    (r) => {
      const s = r.periods.reduce((sum, p) => sum + p.seconds, 0);
      const w = seconds(r.log.start, r.log.end);
      return Math.abs(s - w) <= 0.002 * w + 61;
    },
    (r) => `${r.periods.reduce((sum, p) => sum + p.seconds, 0)} of ${seconds(r.log.start, r.log.end)}`,
  ),
  // Totals are the vehicle's own: what came in from outside, and time without a battery, may be left out of them.
  that(
    'periods add up to the totals',
    (r) =>
      ['charge_in_ah', 'charge_out_ah'].every((k) => {
        const sum = (list) => list.reduce((ah, p) => ah + (p[k] ?? 0), 0);
        const most = sum(r.periods);
        const least = sum(
          r.periods.filter((p) => !['on-charger', 'disconnected', 'no-data', 'unknown'].includes(p.kind)),
        );
        const slack = 0.002 * most + 0.002;
        return r.totals[k] === null || (r.totals[k] >= least - slack && r.totals[k] <= most + slack);
      }),
    (r) =>
      ['charge_in_ah', 'charge_out_ah']
        .map((k) => `${round(r.periods.reduce((sum, p) => sum + (p[k] ?? 0), 0))} of ${r.totals[k]}`)
        .join(', '),
  ),
  that(
    'asleep and awake time lie in parked time',
    (r) => r.totals.asleep_s + r.totals.awake_s <= r.totals.parked_s * 1.001 + 61,
    (r) => JSON.stringify(r.totals),
  ),
  that(
    'asleep time is that of its periods',
    (r) => Math.abs(kindSeconds(r, 'asleep') - r.totals.asleep_s) <= 0.002 * r.totals.asleep_s + 1,
    (r) => `${kindSeconds(r, 'asleep')} of ${r.totals.asleep_s}`,
  ),
  that(
    'driving time is that of its drives',
    (r) =>
      Math.abs(r.drives.reduce((sum, d) => sum + seconds(d.start, d.end), 0) - r.totals.driving_s) <=
      0.01 * r.totals.driving_s + 2 * r.drives.length + 1,
    (r) => `${r.drives.reduce((sum, d) => sum + seconds(d.start, d.end), 0)} of ${r.totals.driving_s}`,
  ),
  that(
    'no drive within a stand',
    (r) => r.drives.every((d) => r.parked.every((p) => d.end <= p.start || d.start >= p.end)),
    (r) => JSON.stringify(r.drives.find((d) => !r.parked.every((p) => d.end <= p.start || d.start >= p.end))),
  ),
  that(
    'wakes are those of the stands',
    (r) => r.parked.reduce((sum, p) => sum + p.wakes, 0) === r.wakes.length,
    (r) => `${r.parked.reduce((sum, p) => sum + p.wakes, 0)} of ${r.wakes.length}`,
  ),
  ...later([
    that(
      'parts of the account add up',
      (r) =>
        r.parked.every((p) => {
          if (!p.account) return p.charge_out_ah === null;
          const a = p.account;
          const sum = a.settling_ah + a.asleep_ah + a.wakes_ah + a.held_ah + a.unknown_ah;
          return Math.abs(sum - p.charge_out_ah) <= 0.005 * p.charge_out_ah + 0.001;
        }),
      (r) => JSON.stringify(r.parked.map((p) => [p.charge_out_ah, p.account]).find(([, a]) => a) ?? 'no account'),
    ),
    that(
      'periods say what tells them',
      (r) => r.periods.every((p) => Array.isArray(p.evidence) && p.certainty >= 0 && p.certainty <= 1),
      (r) => JSON.stringify(r.periods[0]),
    ),
    that(
      'totals carry an uncertainty',
      (r) => r.totals.charge_in_ah === null || r.totals.charge_in_u_ah > 0,
      (r) => JSON.stringify(r.totals),
    ),
  ]),
];
/** Time to sleep of the k-th stand: null where its key-off is not in the log. */
export const sleepKnown = (k, want) =>
  that(
    `time to sleep of stand ${k + 1} is ${want}`,
    (r) => r.parked[k]?.time_to_sleep_s === want,
    (r) => r.parked[k]?.time_to_sleep_s,
  );
