/**
 * Time zones without a library: the runtime's own tz data is asked once a zone and year for its clock changes, and
 * every later question is answered from those. A log asks millions of times, almost always within one span between two
 * changes, so the last span is kept at hand.
 */
import { nearest } from './nearest.ts';
import { UserError } from './problem.ts';
import { shown } from './shown.ts';
import { there } from './there.ts';

const CLEAR_ABBREVIATIONS: ReadonlySet<string> = new Set(['UTC', 'GMT', 'CET', 'EET', 'WET']);
const DAY_MS = 86_400_000;
/** Offsets lie within −12 h and +14 h, and a change moves the clock by a day at most. */
const REACH_MS = 26 * 3_600_000;
/** Outside these years the offset at the edge is taken; a log has no business there. */
const FIRST_MS = Date.UTC(1900, 0, 1);
const LAST_MS = Date.UTC(2200, 0, 1) - 1;

export interface LocalInstants {
  /** UTC, ms since the epoch: one normally, two (earlier first) where the clock was set back over it, none where it was skipped. */
  readonly candidates: readonly number[];
  /** Only for a skipped wall-clock time: the instant meant if the clock had not been set forward yet. */
  readonly shifted?: number;
}

export interface Zone {
  readonly name: string;
  /** Local minus UTC, ms, at an instant in UTC ms since the epoch. NaN gives NaN. */
  offsetMs(utcMs: number): number;
  /** `localMs` is a wall-clock time written as if it were UTC (`Date.UTC(2026, 2, 29, 1, 30)` for half past one). */
  localToUtc(localMs: number): LocalInstants;
}

/** UTC offset that holds from `from` up to, not including, `to`. */
interface OffsetSpan {
  readonly from: number;
  readonly to: number;
  readonly offset: number;
}

const zones = new Map<string, Zone>();

/** The zone of an IANA name such as `Europe/Dublin`. Throws UserError for a name that is not one. */
export function zoneOf(iana: string): Zone {
  let zone = zones.get(iana);
  if (zone === undefined) {
    zone = makeZone(iana);
    zones.set(iana, zone);
  }
  return zone;
}

function makeZone(iana: string): Zone {
  const clock = clockIn(iana);
  const years = new Map<number, readonly OffsetSpan[]>();
  let span: OffsetSpan = { from: 0, to: 0, offset: 0 };
  let lastSpan = span;

  function spanAt(utcMs: number): OffsetSpan {
    const year = new Date(utcMs).getUTCFullYear();
    let spans = years.get(year);
    if (spans === undefined) {
      spans = spansOfYear(clock.offsetMs, year);
      years.set(year, spans);
    }
    return spans.find((candidate) => utcMs < candidate.to) as OffsetSpan;
  }

  function offsetMs(utcMs: number): number {
    if (utcMs >= span.from && utcMs < span.to) return span.offset;
    if (Number.isNaN(utcMs)) return Number.NaN;
    // Near a change the questions go to and fro between two spans.
    [span, lastSpan] = [lastSpan, span];
    if (utcMs >= span.from && utcMs < span.to) return span.offset;
    span = spanAt(Math.min(Math.max(utcMs, FIRST_MS), LAST_MS));
    return span.offset;
  }

  function localToUtc(localMs: number): LocalInstants {
    if (localMs - REACH_MS >= span.from && localMs + REACH_MS < span.to) return { candidates: [localMs - span.offset] };
    if (Number.isNaN(localMs)) return { candidates: [] };
    const before = offsetMs(localMs - REACH_MS);
    const after = offsetMs(localMs + REACH_MS);
    // The larger offset gives the earlier instant; a candidate is real if the offset it was made with holds there.
    const offsets = before === after ? [before] : [before, after].sort((a, b) => b - a);
    const candidates = offsets
      .filter((offset) => offsetMs(localMs - offset) === offset)
      .map((offset) => localMs - offset);
    return candidates.length > 0 ? { candidates } : { candidates, shifted: localMs - before };
  }

  return { name: clock.name, offsetMs, localToUtc };
}

/** The spans that cover one UTC year. The clock never changes twice within a day, so daily probes find every change. */
function spansOfYear(offsetMs: (utcMs: number) => number, year: number): OffsetSpan[] {
  const end = Date.UTC(year + 1, 0, 1);
  const spans: OffsetSpan[] = [];
  let from = Date.UTC(year, 0, 1);
  let offset = offsetMs(from);
  for (let day = from; day < end; day += DAY_MS) {
    const nextDay = Math.min(day + DAY_MS, end);
    const nextOffset = offsetMs(nextDay);
    if (nextOffset === offset) continue;
    const change = bisect(offsetMs, day, nextDay);
    spans.push({ from, to: change, offset });
    from = change;
    offset = nextOffset;
  }
  if (from < end) spans.push({ from, to: end, offset });
  return spans;
}

/** First whole second in (low, high] that has the offset of `high`. */
function bisect(offsetMs: (utcMs: number) => number, low: number, high: number): number {
  const target = offsetMs(high);
  let [before, after] = [low, high];
  while (after - before > 1000) {
    const middle = before + Math.floor((after - before) / 2000) * 1000;
    if (offsetMs(middle) === target) after = middle;
    else before = middle;
  }
  return after;
}

/** The slow way: one call of Intl for each question. */
function clockIn(iana: string): { name: string; offsetMs(utcMs: number): number } {
  const format = formatIn(iana);
  const resolved = format.resolvedOptions().timeZone;
  return {
    // Keeps an alias as written (the runtime may resolve it to another name), but mends its letter case.
    name: resolved.toLowerCase() === iana.toLowerCase() ? resolved : iana,
    offsetMs(utcMs) {
      const parts = new Map(format.formatToParts(utcMs).map(({ type, value }) => [type, Number(value)]));
      const of = (type: Intl.DateTimeFormatPartTypes) => there(parts.get(type));
      const wallClockMs = Date.UTC(of('year'), of('month') - 1, of('day'), of('hour'), of('minute'), of('second'));
      return wallClockMs - utcMs;
    },
  };
}

function formatIn(iana: string): Intl.DateTimeFormat {
  try {
    // Runtimes differ in whether they take `+01:00`, and abbreviations such as `IST` or `EST` mean different zones to
    // different people: a silent guess.
    if (!/^[A-Za-z]/.test(iana) || (iana.length <= 3 && !CLEAR_ABBREVIATIONS.has(iana.toUpperCase())))
      throw new RangeError();
    return new Intl.DateTimeFormat('en-US', {
      timeZone: iana,
      calendar: 'gregory',
      numberingSystem: 'latn',
      hourCycle: 'h23',
      year: 'numeric',
      month: 'numeric',
      day: 'numeric',
      hour: 'numeric',
      minute: 'numeric',
      second: 'numeric',
    });
  } catch {
    const near = nearest(iana, Intl.supportedValuesOf('timeZone'));
    const hint = near ? ` Did you mean ${near}?` : '';
    throw new UserError(
      `${shown(iana)} is not a time zone. Expected: a name from the IANA list, such as Europe/Dublin, America/New_York or UTC.${hint}`,
    );
  }
}
