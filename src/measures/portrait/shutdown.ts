/** The usual staircase of the draw after key-off: the levels that come in most settlings, in order, each with its length. */
import type { Analysis, Span } from '../../analysis/model.ts';
import { tilesWithin } from '../../analysis/tiles/tiles-in.ts';
import { settlings } from '../circuits/settlings.ts';
import { measure } from '../measure.ts';
import type { Spread } from './distribution.ts';
import { keyOffs } from './key-off.ts';
import { spreadOf } from './spread-of.ts';
import { type Step, stepsOf } from './steps.ts';

/** Levels of two settlings nearer than this are the same step. */
const SAME = Math.log(1.2);
/** A step is usual that comes in at least this share of the settlings. */
const USUAL = 0.5;

export interface ShutdownStep {
  readonly levelA: Spread;
  readonly seconds: Spread;
  /** Settlings in which it came. */
  readonly count: number;
}

export interface Shutdown {
  readonly steps: readonly ShutdownStep[];
  /** Settlings that were looked at, and how long they took, s. */
  readonly settlings: number;
  readonly seconds: Spread | null;
}

export const shutdown = measure((analysis, session): Shutdown => {
  if (!analysis.has.current) return { steps: [], settlings: 0, seconds: null };
  const begins = keyOffs(analysis, session);
  const slept = settlings(analysis, session).all.flatMap(({ start, seconds }) => {
    const begin = begins[analysis.stands.findIndex((stand) => stand.start === start)] ?? start;
    return seconds === null ? [] : [{ start: begin, end: start + seconds }];
  });
  const stairs = slept.map((span) => staircaseOf(analysis, span));
  const model = stairs.toSorted((a, b) => likeness(b, stairs) - likeness(a, stairs))[0] ?? [];
  const matches = stairs.map((stair) => align(model, stair));
  const steps = model.flatMap((_, at) => {
    const own = matches.flatMap((match) => match[at] ?? []);
    const [levelA, seconds] = [spreadOf(own.map(({ level }) => level)), spreadOf(own.map(({ seconds: s }) => s))];
    return levelA && seconds && own.length >= USUAL * stairs.length ? [{ levelA, seconds, count: own.length }] : [];
  });
  return { steps, settlings: slept.length, seconds: spreadOf(slept.map(({ start, end }) => end - start)) };
});

function staircaseOf({ tiles }: Analysis, span: Span): Step[] {
  const own = tilesWithin(tiles, span).filter((k) => !Number.isNaN(tiles.i[k] ?? Number.NaN));
  return stepsOf({
    levels: own.map((k) => -(tiles.i[k] ?? 0)),
    seconds: own.map((k) => (tiles.t1[k] ?? 0) - (tiles.t0[k] ?? 0)),
  });
}

const isSame = (a: Step, b: Step) => a.level > 0 && b.level > 0 && Math.abs(Math.log(a.level / b.level)) < SAME;

/** How many steps it shares with the others, less those that are its own alone. */
function likeness(stair: readonly Step[], others: readonly (readonly Step[])[]): number {
  return others.reduce((sum, other) => {
    const shared = align(stair, other).filter(Boolean).length;
    return sum + 2 * shared - stair.length - other.length;
  }, 0);
}

/** For each step of `model` the one of `stair` that it is, in the same order (longest common subsequence). */
function align(model: readonly Step[], stair: readonly Step[]): (Step | undefined)[] {
  const best = model.map(() => new Int32Array(stair.length + 1));
  best.push(new Int32Array(stair.length + 1));
  const at = (a: number, b: number) => best[a]?.[b] ?? 0;
  for (let a = model.length - 1; a >= 0; a--) {
    for (let b = stair.length - 1; b >= 0; b--) {
      const [one, other] = [model[a], stair[b]];
      const with1 = one && other && isSame(one, other) ? 1 + at(a + 1, b + 1) : 0;
      (best[a] as Int32Array)[b] = Math.max(with1, at(a + 1, b), at(a, b + 1));
    }
  }
  const found: (Step | undefined)[] = model.map(() => undefined);
  let b = 0;
  for (let a = 0; a < model.length; a++) {
    if (at(a, b) === at(a + 1, b)) continue;
    const one = model[a] as Step;
    while (b < stair.length && !(isSame(one, stair[b] as Step) && at(a, b) === 1 + at(a + 1, b + 1))) b++;
    found[a] = stair[b++];
  }
  return found;
}
