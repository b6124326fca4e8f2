/**
 * Was a charger or memory saver connected? Its time is left out of charge and draw by the analysis; this says when, how
 * long and how much. One that the technician told of while fitting or removing the logger is in order; one that fills a
 * large part of the log makes the log a poor witness.
 */
import type { Analysis, Period } from '../analysis/model.ts';
import { zoneOf } from '../base/zone.ts';
import type { Session } from '../manifest/session.ts';
import { fedAwakeAh } from '../measures/charge-counted.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf, NO_SOURCE } from '../measures/limit.ts';
import { mostBy, total } from '../measures/spans.ts';
import type { Check } from './check.ts';

const CHARGER_SHARE: DefaultLimit = {
  key: 'chargerShare',
  value: 0.25,
  unit: '1',
  source: NO_SOURCE,
  applies: 'of the time logged',
};

/** A stretch shorter than this may be a coasting or stopping engine, s. Common practice, no source. */
const SHORTEST_S = 300;
/** Work at the beginning and end of a fitting, s. */
const FITTING_S = 2 * 3600;
/** The sun is not up at these hours of the local clock, and a panel shows by its coming back on so many days. Common practice, no source. */
const UP = { fromS: 3 * 3600, toS: 23 * 3600 };
const LEAST_DAYS = 3;
const DAY_S = 86_400;
/** Sleep that tells what the vehicle draws by itself, s: that of one night. */
const NIGHT_S = 6 * 3600;
/** Charge into a parked hybrid's or electric vehicle's battery that is worth a word, Ah. */
const CONVERTER_AH = 0.2;

type Facts = {
  readonly times: number;
  readonly seconds: number;
  readonly chargerAh: number;
  readonly longestS: number | null;
  readonly longestT: number | null;
  readonly currentSeen: boolean;
  readonly saverTold: boolean;
  readonly unknownS: number;
};

export const check: Check<Facts> = {
  id: 'charger-seen',
  about: 'log',
  side: null,
  mendable: false,
  needs: [],
  restsOn: ['on-charger'],
  limits: [CHARGER_SHARE],
  reasons: ['own-converter', 'times-unknown'],
  cautions: ['general', 'hydrogen', 'moving-parts'],
  answer(analysis, session) {
    const limit = limitOf(CHARGER_SHARE, session);
    const spans = analysis.periods.filter((period) => period.kind === 'on-charger' && lengthS(period) >= SHORTEST_S);
    const seconds = total(spans, lengthS);
    const unknown = analysis.periods.filter(isOpen);
    const longest = mostBy(spans, lengthS);
    const toldS = total(
      spans.filter((span) => isTold(span, analysis, session)),
      lengthS,
    );
    const value = analysis.coveredS > 0 ? seconds / analysis.coveredS : 0;
    const base = {
      measured: { value, unit: '1', uncertainty: null },
      limit,
      facts: {
        times: spans.length,
        seconds,
        chargerAh: total(spans, (span) => span.chargeInAh),
        longestS: longest ? lengthS(longest) : null,
        longestT: longest?.start ?? null,
        currentSeen: analysis.has.current,
        saverTold: session.install.memorySaver?.used === true,
        unknownS: total(unknown, lengthS),
      },
      evidence: longest ? [{ chart: 'charger-seen', from: longest.start, to: longest.end }] : [],
    } as const;
    if (!longest) {
      if (converterCharged(analysis, session)) return { ...base, status: 'undecided', reason: 'own-converter' };
      if (unknown.length > 0) return { ...base, status: 'undecided', reason: 'times-unknown' };
      return { ...base, status: 'clear' };
    }
    if (value > limit.value) {
      const isEnough = total(analysis.stands, ({ asleepS }) => asleepS) >= NIGHT_S;
      if (isEnough && isByDay(spans, session)) return { ...base, status: 'watch', variant: 'by-day' };
      return { ...base, status: 'fault' };
    }
    return toldS === seconds ? { ...base, status: 'clear', variant: 'told' } : { ...base, status: 'watch' };
  },
};

/** Nothing tells what went on: whether it was fed cannot be told either. */
const isOpen = (period: Period) => period.kind === 'unknown' && lengthS(period) >= SHORTEST_S;

/** Never by night, and on several days. */
function isByDay(spans: readonly Period[], { timezone }: Session): boolean {
  const zone = zoneOf(timezone);
  const local = (t: number) => t + zone.offsetMs(t * 1000) / 1000;
  const days = new Set(spans.map(({ start }) => Math.floor(local(start) / DAY_S)));
  const isUp = ({ start, end }: Period) =>
    local(start) % DAY_S >= UP.fromS && (local(start) % DAY_S) + end - start <= UP.toS;
  return days.size >= LEAST_DAYS && spans.every(isUp);
}

const lengthS = (period: Period) => period.end - period.start;

/** A memory saver that the manifest tells of, in the hours around fitting and removal. */
function isTold(span: Period, analysis: Analysis, { install }: Session): boolean {
  if (!install.memorySaver?.used) return false;
  const fittedAt = install.fittedAtMs === undefined ? analysis.start : install.fittedAtMs / 1000;
  const removedAt = install.removedAtMs === undefined ? analysis.end : install.removedAtMs / 1000;
  return span.end <= Math.max(fittedAt, analysis.start) + FITTING_S || span.start >= removedAt - FITTING_S;
}

/** Beside a traction battery no log tells a shop charger from the vehicle's own converter. */
function converterCharged(analysis: Analysis, session: Session): boolean {
  if (session.vehicle.powertrain === 'combustion') return false;
  return fedAwakeAh(analysis) > CONVERTER_AH;
}
