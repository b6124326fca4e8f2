/** The monitored circuits: when each is on, how long after key-off it goes dark, and in which order they wake at key-on. */
import type { Analysis, PeriodKind, Stand } from '../../analysis/model.ts';
import { isActive } from '../../analysis/sleep/wakes.ts';
import type { Channel } from '../../manifest/session.ts';
import { measure } from '../measure.ts';
import { createDistribution, type Spread, VOLTS } from './distribution.ts';
import { keyOffs } from './key-off.ts';
import { spreadOf } from './spread-of.ts';

/** Dark once it has been off for so long, s. */
const DARK_S = 30;
/** How long before a key-on it may already have woken, s: unlocked, doors opened. */
const BEFORE_KEY_ON_S = 300;
const AFTER_KEY_ON_S = 60;

export interface CircuitShown {
  readonly channel: string;
  /** Share of the time of each kind of period in which it is on. */
  readonly onShare: Readonly<Partial<Record<PeriodKind, number>>>;
  /** From key-off, s; null where it never went dark. */
  readonly offAfterS: Spread | null;
  readonly offSeen: number;
  /** From key-on, s; negative where it was on before, as from unlocking; null where it came on at fewer than half of them. */
  readonly onAfterS: Spread | null;
  readonly onSeen: number;
  /** Voltage while on and while off; null where it never was. */
  readonly voltsOn: Spread | null;
  readonly voltsOff: Spread | null;
  /** Times that it came on while parked. */
  readonly pulses: number;
  readonly pulseS: Spread | null;
}

/** Channels across a cable or ground are no circuits that are on or off. */
export const circuits = measure((analysis, session): readonly CircuitShown[] =>
  session.log.channels.flatMap((channel, c) =>
    channel.measures === 'supply' && analysis.has.channels[c]
      ? [describe(analysis, channel, c, keyOffs(analysis, session))]
      : [],
  ),
);

interface Run {
  readonly start: number;
  end: number;
  readonly on: boolean;
}

function describe(analysis: Analysis, channel: Channel, c: number, offs: readonly (number | null)[]): CircuitShown {
  const runs = runsOf(analysis, channel, c);
  const off = analysis.stands.flatMap((stand, at) => offAfter(runs, offs[at] ?? null, stand.end) ?? []);
  const on = analysis.stands.flatMap((stand) => onAfter(runs, stand) ?? []);
  const keyOns = analysis.stands.filter(({ keyOnInLog }) => keyOnInLog).length;
  const pulses = runs.filter((run, k) => run.on && runs[k - 1]?.on === false && isWithinStand(run, analysis.stands));
  return {
    channel: channel.label,
    ...whenOn(analysis, channel, c),
    offAfterS: spreadOf(off),
    offSeen: off.length,
    onAfterS: 2 * on.length >= keyOns ? spreadOf(on) : null,
    onSeen: on.length,
    pulses: pulses.length,
    pulseS: spreadOf(pulses.map(({ start, end }) => end - start)),
  };
}

function whenOn({ tiles, periods }: Analysis, channel: Channel, c: number) {
  const on = createDistribution(VOLTS);
  const off = createDistribution(VOLTS);
  const time = new Map<PeriodKind, { on: number; all: number }>();
  let lastKind: PeriodKind | null = null;
  let own = { on: 0, all: 0 };
  let at = 0;
  for (let k = 0; k < tiles.n; k++) {
    const t0 = tiles.t0[k] ?? 0;
    const t1 = tiles.t1[k] ?? 0;
    const high = tiles.chMax[c]?.[k] ?? Number.NaN;
    if (Number.isNaN(high)) continue;
    while ((periods[at]?.end ?? Number.POSITIVE_INFINITY) <= t0) at++;
    const kind = periods[at]?.kind;
    if (kind === undefined) break;
    const active = isActive(tiles, c, k, channel);
    if (kind !== lastKind) own = time.get(kind) ?? { on: 0, all: 0 };
    if (kind !== lastKind) time.set(kind, own);
    lastKind = kind;
    own.all += t1 - t0;
    if (active) own.on += t1 - t0;
    (active ? on : off).add(active ? high : (tiles.chMin[c]?.[k] ?? Number.NaN), t1 - t0);
  }
  const onShare = Object.fromEntries(
    [...time].filter(([, { all }]) => all > 0).map(([kind, own]) => [kind, own.on / own.all]),
  );
  return { onShare, voltsOn: on.spread(), voltsOff: off.spread() };
}

/** Stretches of on and of off, in order; where nothing was read one ends. */
function runsOf({ tiles }: Analysis, channel: Channel, c: number): Run[] {
  const runs: Run[] = [];
  let last: Run = { start: Number.NaN, end: Number.NaN, on: false };
  for (let k = 0; k < tiles.n; k++) {
    if (Number.isNaN(tiles.chMax[c]?.[k] ?? Number.NaN)) continue;
    const on = isActive(tiles, c, k, channel);
    const start = tiles.t0[k] ?? 0;
    const end = tiles.t1[k] ?? 0;
    if (last.on === on && start - last.end < 1e-6) {
      last.end = end;
      continue;
    }
    last = { start, end, on };
    runs.push(last);
  }
  return runs;
}

/** Runs that end after `from`, until `to`. */
function between(runs: readonly Run[], from: number, to: number): Run[] {
  let low = 0;
  let high = runs.length;
  while (low < high) {
    const mid = (low + high) >> 1;
    if ((runs[mid]?.end ?? 0) > from) high = mid;
    else low = mid + 1;
  }
  const found: Run[] = [];
  for (let k = low; k < runs.length; k++) {
    const run = runs[k] as Run;
    if (run.start >= to) break;
    found.push(run);
  }
  return found;
}

/** How long after key-off it goes dark; null where it was dark before and stays so, or does not. */
function offAfter(runs: readonly Run[], start: number | null, end: number): number | null {
  if (start === null) return null;
  const wasOn = between(runs, start - DARK_S, Math.min(start + DARK_S, end)).some(({ on }) => on);
  if (!wasOn) return null;
  const after = between(runs, start, end);
  // What a key-off turns on for a while, such as a fan that runs on, goes dark after that.
  const first = after.findIndex(({ on, start: from }) => on && from < start + DARK_S);
  const dark = after.find(
    (run, k) => k > first && !run.on && Math.min(run.end, end) - Math.max(run.start, start) >= DARK_S,
  );
  return dark ? Math.max(0, dark.start - start) : null;
}

/** When it comes on about the key-on that ends a stand; null where it was on all along, or stays off. */
function onAfter(runs: readonly Run[], { start, end, keyOnInLog }: Stand): number | null {
  if (!keyOnInLog) return null;
  const near = between(runs, Math.max(start, end - BEFORE_KEY_ON_S), end + AFTER_KEY_ON_S);
  // A pulse that is over by then, such as a wake's, is no waking for the key.
  const at = near.findIndex((run, k) => run.on && run.end > end && near[k - 1]?.on === false);
  return at < 0 ? null : (near[at] as Run).start - end;
}

const isWithinStand = (run: Run, stands: readonly Stand[]) =>
  stands.some(({ start, end }) => run.start > start && run.end < end);
