/** Signs of the direction of current, and what they come to together. */
import type { Direction } from '../model.ts';

/** One sign for the manifest's statement, or against it; `t` in s since the epoch. */
export interface Sign {
  readonly t: number;
  readonly what: 'crank' | 'step' | 'driving';
  readonly agrees: boolean;
}

/** Tiles of one drive are not independent of each other: each kind of evidence speaks as one witness, by majority; each crank by itself. */
export function weigh(signs: readonly Sign[]): Pick<Direction, 'agree' | 'against' | 'evidence'> {
  const evidence = (['crank', 'step', 'driving'] as const).map((what) => {
    const own = signs.filter((sign) => sign.what === what);
    const agree = own.filter((sign) => sign.agrees).length;
    return { what, agree, against: own.length - agree };
  });
  const voices = evidence.map((one) => (one.what === 'crank' ? one : majority(one)));
  const agree = voices.reduce((sum, voice) => sum + voice.agree, 0);
  const against = voices.reduce((sum, voice) => sum + voice.against, 0);
  return { agree, against, evidence };
}

function majority(voice: { agree: number; against: number }) {
  const total = voice.agree + voice.against;
  if (total < 5) return { agree: 0, against: 0 };
  if (voice.agree > 0.8 * total) return { agree: 1, against: 0 };
  return { agree: 0, against: voice.against > 0.8 * total ? 1 : 0 };
}
