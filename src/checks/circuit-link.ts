/**
 * Which monitored circuit goes with the wakes, and with the slow settlings where some were too slow. A circuit is named only
 * where luck would hardly match so well, and where the match is the rule; it is a fault only where the wakes, or the time to
 * sleep, are one. Going together does not show which of the two brings the other about.
 */
import { standsCompared } from '../measures/account/stands-compared.ts';
import { circuitMatches, LINK_CHANCE, type Match, toSettlings } from '../measures/circuits/matches.ts';
import { limitOf } from '../measures/limit.ts';
import { wakeWeight } from '../measures/wakes/wake-weight.ts';
import type { Check } from './check.ts';

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
  limits: [LINK_CHANCE],
  reasons: ['only-drops', 'no-wakes', 'held-load', 'few-wakes', 'maybe-chance', 'few-settlings', 'on-meanwhile'],
  cautions: ['general', 'short-circuit', 'airbag'],
  answer(analysis, session) {
    const limit = limitOf(LINK_CHANCE, session);
    const { supplies, wakes, slow } = circuitMatches(analysis, session);
    if (supplies.length === 0) return { status: 'undecided', limit, reason: 'only-drops' };
    const wakesAtFault = wakeWeight(analysis, session) === 'at-fault';
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
