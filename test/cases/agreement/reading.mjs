// How the table reads a report: findings by what they say, loads, failed starts; and the kinds of its lines.

export const finding = (r, check) => r.findings.find((f) => f.check === check);
export const storyOf = (f) => (f.status === 'undecided' ? f.reason_key : f.variant) ?? '';
/** The finding of a check where it says one of those: a status, or a status with its story or reason (`fault:load`, `fault:` for the plain one). */
export const is = (r, [check, ...allowed]) => {
  const f = finding(r, check);
  return f && allowed.some((one) => one === f.status || one === `${f.status}:${storyOf(f)}`) ? f : undefined;
};
export const isBad = (r, check) => is(r, [check, 'fault', 'watch']) !== undefined;
export const told = (f) => `${f.check} ${f.status}${storyOf(f) ? `:${storyOf(f)}` : ''} (${f.title})`;
export const spanS = ({ start, end }) => (Date.parse(end) - Date.parse(start)) / 1000;
export const kindS = (r, kind) => r.periods.reduce((sum, p) => sum + (p.kind === kind ? p.seconds : 0), 0);
export const within = (r, { start, end }) => r.periods.filter((p) => p.start >= start && p.end <= end);
export const asleepS = (r, stand) =>
  within(r, stand).reduce((sum, p) => sum + (p.kind === 'asleep' ? p.seconds : 0), 0);
export const loads = (r) =>
  r.parked.flatMap((stand) => (stand.held ?? []).map((load) => ({ ...load, stand, lastedS: spanS(load) })));
/** Starts that failed and were not cured by the next attempt; a log that ends with one shows nothing. */
export const failed = (r) => {
  const all = (r.events ?? []).filter(
    ({ kind, volts_min }) => kind === 'failed-start' && volts_min > 0.25 * r.session.vehicle.system_voltage_v,
  );
  const last = all.at(-1);
  const isLost = last && !r.drives.some(({ start }) => start >= last.start);
  const isSeen = last && Date.parse(r.log.end) - Date.parse(last.start) > 620_000;
  return all.length > 1 || (isLost && isSeen) ? all : [];
};
export const isDisturbed = (r, { start, time_to_sleep_s }) =>
  r.periods.some(
    (p) =>
      ['on-charger', 'disconnected', 'no-data', 'unknown'].includes(p.kind) &&
      p.start >= start &&
      Date.parse(p.start) < Date.parse(start) + time_to_sleep_s * 1000,
  );
/** Reasons of what nobody asked for. */
export const NOT_ASKED = ['not-fitted', 'no-drop-channel', 'only-drops', 'no-starter', 'not-lead', 'no-wakes'];
export const LOG_CHECKS = [
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
export const isOfLog = ({ check }) => LOG_CHECKS.includes(check);

/** Two findings that cannot both stand. */
export const pair = (one, other, why) => ({
  name: `${one[0]} ${one.slice(1).join('|')} / ${other[0]} ${other.slice(1).join('|')}`,
  why,
  broken: (r) => is(r, one) && is(r, other) && `${told(is(r, one))} and ${told(is(r, other))}`,
});
/** A finding, and what the report's own data show: `shown` gives what speaks against it, or nothing. */
export const against = (one, name, why, shown) => ({
  name: `${one[0]} ${one.slice(1).join('|')} / ${name}`,
  why,
  broken(r) {
    const found = is(r, one) && shown(r, is(r, one));
    return found && `${told(is(r, one))} and ${found}`;
  },
});
export const rule = (name, why, broken) => ({ name, why, broken });

export const faults = (r) =>
  r.findings
    .filter(({ status }) => status === 'fault')
    .map(told)
    .join(', ');
