/**
 * How the monitored circuits go with the wakes, and with the slow settlings where some were too slow; and which of them is named for the
 * time to sleep.
 */
import type { Session } from '../../manifest/session.ts';
import { type CheckLimit, type DefaultLimit, limitOf, NO_SOURCE } from '../limit.ts';
import { measure } from '../measure.ts';
import { sleepsLate } from '../sleep-times.ts';
import { mostBy } from '../spans.ts';
import { circuitLinks, LINKED, type Link } from './links.ts';

export const LINK_CHANCE: DefaultLimit = {
  key: 'linkChance',
  value: LINKED.mostChance,
  unit: '1',
  source: NO_SOURCE,
  applies: 'for the best of the monitored circuits, with their number taken into account',
};
/** Above this a match is luck; between it and the limit it may be. */
const MAYBE = 0.1;

/** How one circuit goes with wakes, or with slow settlings. */
export interface Tie {
  readonly link: Link;
  readonly chance: number;
  /** It goes with most of them. */
  readonly isRule: boolean;
  /** No match could be better with so few of them. */
  readonly isWhole: boolean;
  readonly chargeShare: number;
}

function toWakes(link: Link): Tie {
  const { chance, chargeShare, match } = link;
  return { link, chance, chargeShare, isRule: match >= LINKED.leastMatch, isWhole: false };
}

export function toSettlings(link: Link): Tie {
  const { slowWith = 0, slowSeen = 0, quickWith = 0, without, chance = 1, chargeShare = 0 } = link.settlings ?? {};
  const isWhole = without === true || (slowWith === slowSeen && quickWith === 0);
  return { link, chance, chargeShare, isRule: without === true || slowWith >= LINKED.leastMatch * slowSeen, isWhole };
}

export interface Match {
  /** Of the linked ones the one with most of the charge; without any, the nearest. */
  readonly best: Tie;
  readonly value: number;
  readonly isLinked: boolean;
  readonly isOpen: boolean;
  readonly linked: readonly Tie[];
  readonly others: readonly Tie[];
}

/** Undefined where no circuit could be asked. */
function matchOf(ties: readonly Tie[], limit: CheckLimit): Match | undefined {
  // With several circuits one of them matches more easily (Bonferroni).
  const chanceOf = (tie: Tie) => Math.min(1, tie.chance * ties.length);
  const linked = ties.filter((tie) => chanceOf(tie) <= limit.value && tie.isRule);
  const best = mostBy(linked, (tie) => tie.chargeShare) ?? mostBy(ties, (tie) => -tie.chance);
  if (!best) return undefined;
  const value = chanceOf(best);
  return {
    best,
    value,
    isLinked: linked.length > 0,
    isOpen: best.isRule && (value <= MAYBE || best.isWhole),
    linked,
    others: ties.filter((tie) => !linked.includes(tie)),
  };
}

export interface CircuitMatches {
  /** Links of the channels that watch a supply. */
  readonly supplies: readonly Link[];
  readonly wakes: Match | undefined;
  readonly slow: Match | undefined;
}

export const circuitMatches = measure((analysis, session): CircuitMatches => {
  const limit = limitOf(LINK_CHANCE, session);
  const supplies = circuitLinks(analysis, session).filter(isSupplyOf(session));
  const late = sleepsLate(analysis, session) ? supplies.filter(({ settlings }) => settlings) : [];
  return {
    supplies,
    wakes: matchOf(supplies.filter(({ wakesSeen }) => wakesSeen > 0).map(toWakes), limit),
    slow: matchOf(late.map(toSettlings), limit),
  };
});

/** The circuit that goes with the slow settlings, hardly by chance; null where none does. */
export const namedForSettlings = measure((analysis, session): string | null => {
  const { slow } = circuitMatches(analysis, session);
  return slow?.isLinked ? slow.best.link.channel : null;
});

const isSupplyOf = ({ log }: Session) => {
  const drops = new Set(log.channels.filter(({ measures }) => measures === 'drop').map(({ label }) => label));
  return ({ channel }: Link) => !drops.has(channel);
};
