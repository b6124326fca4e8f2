/**
 * Each day of the session's own calendar: charge, counted as the periods count it, so that the days add up to the totals; how low
 * the voltage went, how deep the battery was discharged, and its temperatures.
 */
import type { Analysis, Period, Span } from '../../analysis/model.ts';
import { PARKED_GRAIN_S, splitCharge } from '../../analysis/states/periods.ts';
import { tileAt } from '../../analysis/tiles/tiles.ts';
import { type Zone, zoneOf } from '../../base/zone.ts';
import { measure } from '../measure.ts';

const DAY_MS = 86_400_000;

export interface Day {
  /** Number of the day since 1970-01-01. */
  readonly day: number;
  readonly chargeInAh: number;
  readonly chargeOutAh: number;
  /** From outside, by a charger, which is in neither, Ah. */
  readonly chargerAh: number;
  readonly drivingS: number;
  /** Lowest reading, V; cranks count. Null where the day has none. */
  readonly voltsMin: number | null;
  /** Most charge that lacked to the fullest moment of the log so far, Ah; null without current. */
  readonly depthAh: number | null;
  /** Coldest and warmest, °C; null without temperature. */
  readonly temperature: { readonly min: number; readonly max: number } | null;
}

export const days = measure((analysis, session): readonly Day[] => {
  const zone = zoneOf(session.timezone);
  const found = new Map<number, { inAs: number; outAs: number; chargerAs: number; drivingS: number }>();
  const of = (day: number) => {
    const known = found.get(day) ?? { inAs: 0, outAs: 0, chargerAs: 0, drivingS: 0 };
    found.set(day, known);
    return known;
  };
  for (const period of analysis.periods) {
    for (const part of partsByDay(period, zone)) {
      const day = of(part.day);
      if (period.kind === 'driving') day.drivingS += part.end - part.start;
      if (period.kind === 'disconnected') continue;
      const { inAs, outAs } = chargeBetween(analysis, period, part.start, part.end);
      if (period.kind === 'on-charger') day.chargerAs += inAs;
      else {
        day.inAs += inAs;
        day.outAs += outAs;
      }
    }
  }
  const levels = levelsByDay(analysis, zone);
  return [...found]
    .toSorted(([a], [b]) => a - b)
    .map(([day, { inAs, outAs, chargerAs, drivingS }]) => ({
      day,
      chargeInAh: inAs / 3600,
      chargeOutAh: outAs / 3600,
      chargerAh: chargerAs / 3600,
      drivingS,
      ...(levels.get(day) ?? NO_LEVELS),
    }));
});

type Levels = Pick<Day, 'voltsMin' | 'depthAh' | 'temperature'>;
const NO_LEVELS: Levels = { voltsMin: null, depthAh: null, temperature: null };

/** A tile counts to the day in which it begins. */
function levelsByDay({ tiles, has }: Analysis, zone: Zone): ReadonlyMap<number, Levels> {
  const found = new Map<number, Levels>();
  let [netAs, fullestAs] = [0, 0];
  for (let k = 0; k < tiles.n; k++) {
    const ms = 1000 * (tiles.t0[k] ?? 0);
    const day = Math.floor((ms + zone.offsetMs(ms)) / DAY_MS);
    const { voltsMin, depthAh, temperature } = found.get(day) ?? NO_LEVELS;
    netAs += tiles.netAs[k] ?? 0;
    fullestAs = Math.max(fullestAs, netAs);
    const [volts, degrees] = [tiles.vMin[k] ?? Number.NaN, tiles.temp[k] ?? Number.NaN];
    found.set(day, {
      voltsMin: Number.isNaN(volts) ? voltsMin : Math.min(volts, voltsMin ?? volts),
      depthAh: has.current ? Math.max(depthAh ?? 0, (fullestAs - netAs) / 3600) : null,
      temperature: Number.isNaN(degrees)
        ? temperature
        : { min: Math.min(degrees, temperature?.min ?? degrees), max: Math.max(degrees, temperature?.max ?? degrees) },
    });
  }
  return found;
}

/** The parts of a span in one day each; s since the epoch. */
function partsByDay({ start, end }: Span, zone: Zone) {
  const parts: { day: number; start: number; end: number }[] = [];
  for (let from = start; from < end; ) {
    const day = Math.floor((from * 1000 + zone.offsetMs(from * 1000)) / DAY_MS);
    const { candidates, shifted } = zone.localToUtc((day + 1) * DAY_MS);
    const midnight = (candidates[0] ?? shifted ?? (from + 86_400) * 1000) / 1000;
    const to = midnight > from ? Math.min(end, midnight) : end;
    parts.push({ day, start: from, end: to });
    from = to;
  }
  return parts;
}

/** A tile over midnight is shared out by time. */
function chargeBetween({ tiles }: Analysis, { kind }: Period, from: number, to: number) {
  const grainS = kind === 'driving' || kind === 'cranking' ? 0 : PARKED_GRAIN_S;
  const split = splitCharge(grainS);
  for (let k = tileAt(tiles, from); k < tiles.n; k++) {
    const [t0, t1] = [tiles.t0[k] ?? 0, tiles.t1[k] ?? 0];
    if (t0 >= to) break;
    const share = t1 > t0 ? (Math.min(t1, to) - Math.max(t0, from)) / (t1 - t0) : 0;
    split.add(share * (tiles.netAs[k] ?? 0), share * (tiles.iCov[k] ?? 0));
  }
  return split.sum();
}
