/** What tells a period's kind, in short words, and how sure it is. */
import type { Period, PeriodKind } from '../model.ts';
import type { Tiles } from '../tiles/tiles.ts';
import { type Levels, restOf } from './evidence.ts';
import type { Labels } from './label.ts';
import type { Segment } from './segments.ts';
import type { EvidenceKey } from './state.ts';

export type EvidenceOf = (kind: PeriodKind, first: number, last: number) => Pick<Period, 'evidence' | 'certainty'>;

/** A segment this far from even tells by its restlessness. */
const TELLS = 0.3;

/** How sure it is that the sun feeds where nothing flows in. */
const SUNNY = 0.8;

/** @param sunny 1 for each tile that is fed because it draws less than by night */
export function createEvidence(tiles: Tiles, { segments, certainty, levels }: Labels, sunny: Uint8Array): EvidenceOf {
  let from = 0;
  return (kind, first, last) => {
    while (from > 0 && segments[from].first > first) from--;
    while (from + 1 < segments.length && segments[from].last < first) from++;
    const keys = new Set<EvidenceKey>();
    let sum = 0;
    let seconds = 0;
    for (let j = from; j < segments.length && segments[j].first <= last; j++) {
      if (j > 0 && segments[j - 1].crank >= 0 && kind === 'driving') keys.add('crank');
      for (const key of keysOf(kind, segments[j], levels)) keys.add(key);
    }
    for (let k = first; k <= last; k++) {
      const lengthS = tiles.t1[k] - tiles.t0[k];
      if (sunny[k]) keys.add('below-sleeping-level');
      sum += lengthS * (sunny[k] ? SUNNY : certainty[k]);
      seconds += lengthS;
    }
    if (first === 0 || last === tiles.n - 1) keys.add('log-edge');
    return { evidence: [...keys], certainty: seconds > 0 ? sum / seconds : certainty[first] };
  };
}

function keysOf(kind: PeriodKind, segment: Segment, levels: Levels): EvidenceKey[] {
  const rest = restOf(segment, levels);
  const feeds: EvidenceKey[] = !segment.isFed ? [] : segment.drawA < 0 ? ['current-in'] : ['charging-voltage'];
  switch (kind) {
    case 'cranking':
      return ['crank'];
    case 'driving':
      return [
        ...feeds,
        ...(rest > TELLS ? (['restless'] as const) : []),
        ...(segment.isFed ? [] : (['goes-on'] as const)),
      ];
    case 'on-charger':
      return [
        ...feeds,
        ...(rest < -TELLS ? (['steady'] as const) : []),
        ...(levels.showsStarts ? (['no-start'] as const) : []),
      ];
    case 'key-on':
      return ['key-on-draw'];
    case 'settling':
      return levels.hasCurrent ? ['draw-falls'] : ['no-current'];
    case 'asleep':
      return ['sleeping-level'];
    case 'awake':
      return segment.isFed ? feeds : ['above-sleeping-level'];
    case 'disconnected':
      return ['impossible-voltage'];
    case 'no-data':
      return ['no-rows'];
    case 'unknown':
      return levels.hasCurrent ? ['contradictory'] : ['no-current', ...feeds];
  }
}
