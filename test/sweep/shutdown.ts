/** How a vehicle goes to sleep: a staircase of draws, now and then with a fan or lights fading on top. */
import type { Random } from '../../src/demo/random.ts';
import type { Stage } from '../../src/demo/scenario.ts';

/** Longest that a fan runs on. */
const FAN_S = 400;

/**
 * Two to six stages that take `seconds` altogether and fall from several amperes to a last one that still stands out
 * from the sleeping draw. `hot`: the engine has run, so a fan may run on for some minutes; it ends with a step.
 */
export function shutdownStages(random: Random, seconds: number, sleepA: number, hot: boolean): Stage[] {
  const count = 2 + Math.floor(random.between(0, 5));
  const firstA = random.between(4, 11);
  const lastA = Math.min(firstA / 2, Math.max(0.12, sleepA * random.between(0.6, 1.5)));
  const shares = Array.from({ length: count }, (_, k) => (k + 0.5) * random.between(0.4, 1.6));
  const total = shares.reduce((sum, share) => sum + share, 0);
  return shares.map((share, k): Stage => {
    const length = (seconds * share) / total;
    const amps = firstA * (lastA / firstA) ** (k / (count - 1));
    // A hot engine's fan: it fades within the first stage, and its end is a step.
    if (k === 0 && hot && length < FAN_S && random.chance(0.3))
      return { amps: amps + random.between(8, 16), seconds: length, tauS: 1.2 * length };
    return { amps, seconds: length };
  });
}
