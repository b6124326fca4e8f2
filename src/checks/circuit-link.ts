/**
 * Which monitored circuit goes with the wakes, and with the slow settlings where some were too slow. A circuit is named only
 * where luck would hardly match so well, and where the match is the rule; it is a fault only where the wakes, or the time to
 * sleep, are one. Going together does not show which of the two brings the other about.
 */
import { standsCompared } from '../measures/account/stands-compared.ts';
import { circuitLinks, LINKED, type Link } from '../measures/circuits/links.ts';
import { type CheckLimit, type DefaultLimit, limitOf, NO_SOURCE } from '../measures/limit.ts';
import { sleepsLate } from '../measures/sleep-times.ts';
import { mostBy } from '../measures/spans.ts';
import { wakeWeight } from '../measures/wakes/wake-weight.ts';
import type { Check } from './check.ts';

const CHANCE: DefaultLimit = {
  key: 'linkChance',
  value: LINKED.mostChance,
  unit: '1',
  source: NO_SOURCE,
  applies: 'for the best of the monitored circuits, with their number taken into account',
};
/** Above this a match is luck; between it and the limit it may be. */
const MAYBE = 0.1;
/** With fewer wakes than this luck cannot be told from a link. */
const FEWEST = 3;

type Facts = {
  readonly circuits: number;
  readonly several: boolean;
  readonly linked: number;
  readonly channel: string;
  readonly wakesWith: number;
  readonly wakesSeen: number;
  readonly wakesWithout: number;
  readonly share: number;
  readonly lagS: number;
  readonly leads: boolean;
  readonly slowWith: number;
  readonly slowSeen: number;
  readonly slowWithout: number;
  readonly quickWith: number;
  readonly quickSeen: number;
  readonly byLength: boolean;
  readonly slowShare: number | null;
  readonly slowLagS: number | null;
  readonly slowLeads: boolean;
  readonly others: string;
};

export const check: Check<Facts> = {
  id: 'circuit-link',
  about: 'vehicle',
  side: null,
  scale: 'chance',
  inTrain: true,
  needs: ['current', 'channels'],
  limits: [CHANCE],
  reasons: ['only-drops', 'no-wakes', 'held-load', 'few-wakes', 'maybe-chance', 'few-settlings', 'on-meanwhile'],
  cautions: ['general', 'short-circuit', 'airbag'],
  answer(analysis, session) {
    const limit = limitOf(CHANCE, session);
    const { channels } = session.log;
    const isSupply = (link: Link) => channels.find(({ label }) => label === link.channel)?.measures !== 'drop';
    const supplies = circuitLinks(analysis, session).filter(isSupply);
    if (supplies.length === 0) return { status: 'undecided', limit, reason: 'only-drops' };
    const wakes = matchOf(supplies.filter((link) => link.wakesSeen > 0).map(toWakes), limit);
    const wakesAtFault = wakeWeight(analysis, session) === 'at-fault';
    const late = sleepsLate(analysis, session) ? supplies.filter((link) => link.settlings) : [];
    const slow = matchOf(late.map(toSettlings), limit);
    const shown = slow?.isLinked && !(wakes?.isLinked && wakesAtFault) ? slow : (wakes ?? slow);
    if (!shown)
      return { status: 'undecided', limit, reason: standsCompared(analysis, session) ? 'held-load' : 'no-wakes' };

    const base = {
      measured: { value: shown.value, unit: '1', uncertainty: null },
      limit,
      facts: factsOf(shown, supplies.length),
      evidence: [{ chart: 'circuit-link', from: analysis.start, to: analysis.end }],
    } as const;
    if (shown === slow && slow.isLinked) {
      const variant = slow.best.link.settlings?.without ? 'settlings-without' : 'settlings';
      return { ...base, status: 'fault', variant, follows: 'sleep-time' };
    }
    if (shown.isLinked) {
      if (!wakesAtFault) return { ...base, status: 'clear', variant: 'linked' };
      return { ...base, status: 'fault', follows: 'wake-ups' };
    }
    if (wakes && wakes.best.link.wakesSeen < FEWEST) return { ...base, status: 'undecided', reason: 'few-wakes' };
    if (wakes?.isOpen) return { ...base, status: 'undecided', reason: 'maybe-chance' };
    // What is told to be on while a load stays is not cleared here, few as the times may be.
    const named = standsCompared(analysis, session)?.channel ?? null;
    const meanwhile = supplies.find(({ channel }) => channel === named);
    if (meanwhile) {
      const facts = factsOf({ ...shown, best: toSettlings(meanwhile) }, supplies.length);
      return { ...base, facts, status: 'undecided', reason: 'on-meanwhile' };
    }
    if (slow?.isOpen)
      return { ...base, facts: factsOf(slow, supplies.length), status: 'undecided', reason: 'few-settlings' };
    return { ...base, status: 'clear', ...(shown === slow && { variant: 'settlings' }) };
  },
};

/** How one circuit goes with wakes, or with slow settlings. */
interface Tie {
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

function toSettlings(link: Link): Tie {
  const { slowWith = 0, slowSeen = 0, quickWith = 0, without, chance = 1, chargeShare = 0 } = link.settlings ?? {};
  const isWhole = without === true || (slowWith === slowSeen && quickWith === 0);
  return { link, chance, chargeShare, isRule: without === true || slowWith >= LINKED.leastMatch * slowSeen, isWhole };
}

interface Match {
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

function factsOf({ best: { link }, linked, others }: Match, circuits: number) {
  const { settlings } = link;
  return {
    circuits,
    several: circuits > 1,
    linked: linked.length,
    channel: link.channel,
    wakesWith: link.wakesWith,
    wakesSeen: link.wakesSeen,
    wakesWithout: link.wakesSeen - link.wakesWith,
    share: link.chargeShare,
    lagS: Math.abs(link.lagS ?? 0),
    leads: (link.lagS ?? 0) < 0,
    slowWith: settlings?.slowWith ?? 0,
    slowSeen: settlings?.slowSeen ?? 0,
    slowWithout: settlings ? settlings.slowSeen - settlings.slowWith : 0,
    quickWith: settlings?.quickWith ?? 0,
    quickSeen: settlings?.quickSeen ?? 0,
    // On after quick key-offs too: then it is told by how long it stays on.
    byLength: (settlings?.quickWith ?? 0) > 0,
    slowShare: settlings?.chargeShare ?? null,
    slowLagS: settlings && settlings.lagS !== null ? Math.abs(settlings.lagS) : null,
    slowLeads: (settlings?.lagS ?? 0) < 0,
    others: others.map((tie) => tie.link.channel).join(', '),
  };
}
