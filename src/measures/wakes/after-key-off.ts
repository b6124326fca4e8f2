/**
 * A wake that belongs to the key-off: once in each stand, always as long after it, and never again in a stand that lasted
 * for longer. Some vehicles test their fuel system for leaks in this way, hours after they were switched off (a vehicle
 * maker's bulletin of 2010, quoted, second-hand). A long stand holds it once, as it holds its settling.
 */
import type { Analysis, Stand, Wake } from '../../analysis/model.ts';
import { there } from '../../base/there.ts';
import { median } from '../../battery/statistics.ts';
import { limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { mostBy, total } from '../spans.ts';
import { PARKED_DRAW, SLEEP_WITHIN } from '../stands.ts';

/** Lags that differ by less are one, s: by luck two of a night's wakes meet so closely in one case of sixty. Common practice, no source. */
const SAME_LAG_S = 300;
/** Wakes with less than this share of the dearest one's charge are others. */
const ALIKE = 0.5;
/** So many stands show a rule, and one of them must have gone on for this many times the lag. Common practice, no source. */
const LEAST_STANDS = 2;
const TIMES_LAG = 2;

export interface AfterKeyOff {
  /** From key-off to the wake, length and charge of one, middle of all: s, s, Ah. */
  readonly lagS: number;
  readonly seconds: number;
  readonly chargeAh: number;
  readonly wakes: ReadonlySet<Wake>;
}

/** Null without such a rule, and where one takes more than a day's parked draw may. */
export const afterKeyOff = measure((analysis, session): AfterKeyOff | null => {
  const longestS = limitOf(SLEEP_WITHIN, session).value;
  const brief = analysis.wakes.filter(({ seconds }) => seconds <= longestS);
  const dearest = mostBy(brief, ({ chargeAh }) => chargeAh);
  if (!dearest || dearest.chargeAh > 24 * limitOf(PARKED_DRAW, session).value) return null;
  const large = brief.filter(({ chargeAh }) => chargeAh >= ALIKE * dearest.chargeAh);
  const lagOf = (wake: Wake) => wake.start - standOf(analysis, wake).start;
  const known = large.filter((wake) => standOf(analysis, wake).keyOffInLog);
  if (known.length === 0) return null;
  const lagS = median(known.map(lagOf));
  // Of a stand that began before the log no more is known than that its key-off was earlier.
  const isOne =
    known.every((wake) => Math.abs(lagOf(wake) - lagS) <= SAME_LAG_S) &&
    large.every((wake) => lagOf(wake) <= lagS + SAME_LAG_S) &&
    new Set(large.map(({ stand }) => stand)).size === large.length;
  if (!isOne || known.length < LEAST_STANDS) return null;
  const long = analysis.stands.filter(
    ({ start, end, keyOffInLog }) => keyOffInLog && end - start > lagS + 2 * SAME_LAG_S,
  );
  const isRule = long.every((stand) => large.some((wake) => standOf(analysis, wake) === stand));
  const isOnce = long.some(({ start, end }) => end - start > TIMES_LAG * lagS + SAME_LAG_S);
  if (!isRule || !isOnce) return null;
  return {
    lagS,
    seconds: median(large.map(({ seconds }) => seconds)),
    chargeAh: total(large, ({ chargeAh }) => chargeAh) / large.length,
    wakes: new Set(large),
  };
});

const standOf = ({ stands }: Analysis, wake: Wake): Stand => there(stands[wake.stand]);
