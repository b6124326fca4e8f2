/** Signs of the direction of current, and what they come to together. */
import type { Direction } from '../model.ts';

/** One sign for the manifest's statement, or against it; `t` in s since the epoch. */
export interface Sign {
  readonly t: number;
  readonly what: 'crank' | 'step' | 'driving';
  readonly agrees: boolean;
}

type Weighed = Pick<Direction, 'agree' | 'against' | 'evidence'>;

/** Counts signs as they come, and keeps none of them: of a long log there are as many as tiles. */
export function createTally(): { add(what: Sign['what'], agrees: boolean): void; weigh(): Weighed } {
  const counts = {
    crank: { agree: 0, against: 0 },
    step: { agree: 0, against: 0 },
    driving: { agree: 0, against: 0 },
  };
  return {
    add(what, agrees) {
      counts[what][agrees ? 'agree' : 'against']++;
    },
    // Tiles of one drive are not independent of each other: each kind of evidence speaks as one witness, by majority; each crank by itself.
    weigh() {
      const { crank, step, driving } = counts;
      const voices = [crank, majority(step), majority(driving)];
      return {
        agree: voices.reduce((sum, voice) => sum + voice.agree, 0),
        against: voices.reduce((sum, voice) => sum + voice.against, 0),
        evidence: (['crank', 'step', 'driving'] as const).map((what) => ({ what, ...counts[what] })),
      };
    },
  };
}

export function weigh(signs: readonly Sign[]): Weighed {
  const tally = createTally();
  for (const { what, agrees } of signs) tally.add(what, agrees);
  return tally.weigh();
}

function majority(voice: { agree: number; against: number }) {
  const total = voice.agree + voice.against;
  if (total < 5) return { agree: 0, against: 0 };
  if (voice.agree > 0.8 * total) return { agree: 1, against: 0 };
  return { agree: 0, against: voice.against > 0.8 * total ? 1 : 0 };
}
