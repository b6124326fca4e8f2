/**
 * Which monitored circuit goes with the wakes. A circuit is named only where luck would hardly match so well, and most of
 * its switchings (or most wakes) match; it is a fault only where the wakes themselves are one. Going together does not show
 * which of the two brings the other about.
 */
import type { Link } from '../analysis/analysis.ts';
import { LINKED } from '../analysis/links.ts';
import type { Check, DefaultLimit } from './check.ts';
import { limitOf, NO_SOURCE } from './limit.ts';
import { mostBy } from './spans.ts';
import { wakesAtFault } from './wake-ups.ts';

const CHANCE: DefaultLimit = {
  key: 'linkChance',
  value: LINKED.mostChance,
  unit: '1',
  source: NO_SOURCE,
  applies: 'for the best of the monitored circuits, with their number taken into account',
};
/** Above this, and in most wakes, a match may be luck or may not. */
const MAYBE = 0.1;
/** With fewer wakes than this luck cannot be told from a link. */
const FEWEST = 3;

export const check: Check = {
  id: 'circuit-link',
  needs: ['current', 'channels'],
  limits: [CHANCE],
  reasons: ['only-drops', 'no-wakes', 'few-wakes', 'maybe-chance'],
  cautions: ['general', 'short-circuit', 'airbag'],
  answer(analysis, session) {
    const limit = limitOf(CHANCE, session);
    const { channels } = session.log;
    const isSupply = (link: Link) => channels.find(({ label }) => label === link.channel)?.measures !== 'drop';
    const supplies = analysis.links.filter(isSupply);
    if (supplies.length === 0) return { status: 'undecided', limit, reason: 'only-drops' };
    const seen = supplies.filter((link) => link.wakesSeen > 0);
    if (seen.length === 0) return { status: 'undecided', limit, reason: 'no-wakes' };
    // With several circuits one of them matches more easily (Bonferroni).
    const chanceOf = (link: Link) => Math.min(1, link.chance * seen.length);
    const isRule = (link: Link) => (link.match ?? 1) >= LINKED.leastMatch;
    const linked = seen.filter((link) => chanceOf(link) <= limit.value && isRule(link));
    const best = mostBy(linked, (link) => link.chargeShare) ?? (mostBy(seen, (link) => -link.chance) as Link);
    const value = chanceOf(best);
    const base = {
      measured: { value, unit: '1', uncertainty: null },
      limit,
      facts: {
        circuits: seen.length,
        several: seen.length > 1,
        linked: linked.length,
        channel: best.channel,
        wakesWith: best.wakesWith,
        wakesSeen: best.wakesSeen,
        wakesWithout: best.wakesSeen - best.wakesWith,
        share: best.chargeShare,
        lagS: Math.abs(best.lagS ?? 0),
        leads: (best.lagS ?? 0) < 0,
        others: seen
          .filter((link) => !linked.includes(link))
          .map((link) => link.channel)
          .join(', '),
      },
      evidence: [{ chart: 'circuit-link', from: analysis.start, to: analysis.end }],
    } as const;
    if (linked.length > 0) {
      if (!wakesAtFault(analysis, session)) return { ...base, status: 'clear', variant: 'linked' };
      return { ...base, status: 'fault', follows: 'wake-ups' };
    }
    if (best.wakesSeen < FEWEST) return { ...base, status: 'undecided', reason: 'few-wakes' };
    if (value <= MAYBE && isRule(best)) return { ...base, status: 'undecided', reason: 'maybe-chance' };
    return { ...base, status: 'clear' };
  },
};
