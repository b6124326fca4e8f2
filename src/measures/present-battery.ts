/**
 * The battery that is in the vehicle now. Where the technician noted that another one was fitted, and the log shows when, all
 * that is said of the battery is said of the new one; what the old one showed stands beside it.
 */
import type { Analysis, Span } from '../analysis/model.ts';
import type { Session } from '../manifest/session.ts';
import { measure } from './measure.ts';
import { mostBy } from './spans.ts';

/** A note may be written so long before or after, s. */
const NEAR_S = 12 * 3600;
/** Nobody changes a battery in less, s. Common practice, no source. */
const LEAST_OFF_S = 20;
/** A note of another battery, in the languages of `content/`. */
const BATTERY = /batter(y|ie)/i;
const ANOTHER = /replac|exchang|swap|renew|\bnew\b|another|different|\bneue?[rn]?\b|tausch|wechsel|ersetz|andere/i;
const NOT = /\bnot\b|n't\b|\bno\b|\bnicht\b|\bkein/i;

/** The loss of supply in which it was changed; null where none was. */
export const batteryChange = measure((analysis: Analysis, session: Session): Span | null => {
  const notes = session.notes.filter(({ text }) => BATTERY.test(text) && ANOTHER.test(text) && !NOT.test(text));
  if (notes.length === 0) return null;
  const losses = analysis.periods.filter(
    ({ kind, start, end }) =>
      (kind === 'disconnected' || kind === 'no-data') &&
      end - start >= LEAST_OFF_S &&
      start > analysis.start &&
      end < analysis.end,
  );
  const farS = ({ start, end }: Span) =>
    Math.min(...notes.map(({ atMs }) => Math.max(start - atMs / 1000, atMs / 1000 - end, 0)));
  const nearest = mostBy(losses, (loss) => -farS(loss));
  return nearest && farS(nearest) <= NEAR_S ? nearest : null;
});

/** The same analysis without what went before the battery was changed. Wakes keep their stands' places, so they are left out. */
export const presentBattery = measure((analysis: Analysis, session: Session): Analysis => {
  const change = batteryChange(analysis, session);
  return change ? within(analysis, change.end, Number.POSITIVE_INFINITY) : analysis;
});

/** And without what came after; null where it was not changed. */
export const formerBattery = measure((analysis: Analysis, session: Session): Analysis | null => {
  const change = batteryChange(analysis, session);
  return change ? within(analysis, Number.NEGATIVE_INFINITY, change.start) : null;
});

function within(analysis: Analysis, from: number, to: number): Analysis {
  const inside = <T extends Span>(spans: readonly T[]) => spans.filter(({ start, end }) => start >= from && end <= to);
  return {
    ...analysis,
    periods: inside(analysis.periods),
    stands: inside(analysis.stands),
    drives: inside(analysis.drives),
    topUps: inside(analysis.topUps),
    cranks: analysis.cranks.filter(({ at }) => at >= from && at <= to),
    events: analysis.events.filter(({ start }) => start >= from && start <= to),
    wakes: [],
  };
}
