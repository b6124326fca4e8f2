/** What was usual until now: the levels that the voltage had, and the latest rows. */
import type { SampleBlock } from '../../log/block.ts';
import type { Usual } from './dips.ts';
import type { Row } from './raw-crank.ts';
import { createRowRing } from './row-ring.ts';

/** What was drawn so long before is no part of what makes the voltage fall now, s. Common practice, no source, as are all below. */
const MOMENT_S = 1.5;
/** Time constants of the levels of voltage: before an event, after one, and of the last half second, s. */
const USUAL_S = 1.5;
const AFTER_EVENT_S = 0.5;
const RECENT_S = 0.4;
/** After a silence so long a level starts anew, s. */
const SILENCE_S = 2;
/** A supply that comes back is filtered by the logger, and so rises for as long, s. */
const COMES_BACK_S = 4;

/** Of an event: the draw or dip itself, what comes after it, or what lasts too long for a starter. */
export type Phase = 'deep' | 'after' | 'too-long';

export interface UsualLevels extends Usual {
  /** Time of the last row, s; NaN before the first. */
  readonly lastT: number;
  /** Rows `from` up to `to` of a block, all of which draw little and have a current and a voltage. */
  passRun(block: SampleBlock, from: number, to: number): void;
  /** One row; `phase`: of the event under way. What an event does to the voltage while it lasts is not usual. */
  take(t: number, v: number, i: number, temp: number, phase: Phase | undefined): void;
  noteCurrent(): void;
  /** What lately was becomes what is usual: an event begins anew from a lower level. */
  startFromRecent(): void;
  /** The supply was lost: what it was before says nothing of what it comes back to. */
  forget(): void;
  /** Rows from time `t` on, in order, and always the last two. */
  since(t: number): Row[];
}

export function createUsual(): UsualLevels {
  const ring = createRowRing();
  /** `knownT`: of the last row with a voltage, s. */
  const now = { reference: Number.NaN, recent: Number.NaN, hasCurrent: false, lastT: Number.NaN, knownT: Number.NaN };
  /** When the supply came back, s. */
  let backT = Number.NaN;
  return Object.assign(now, {
    leastBeforeA: () => ring.leastA(MOMENT_S),
    since: (t: number) => ring.since(t),
    noteCurrent() {
      now.hasCurrent = true;
    },
    startFromRecent() {
      now.reference = now.recent;
    },
    forget() {
      now.reference = Number.NaN;
      now.recent = Number.NaN;
      now.knownT = Number.NaN;
    },
    passRun(block: SampleBlock, from: number, to: number) {
      const { t, v } = block;
      // In variables of their own, which is much quicker than in those that outlive the call.
      let [slow, quick, since] = [now.reference, now.recent, now.knownT];
      for (let row = from; row < to; row++) {
        slow = follow(slow, v[row], t[row] - since, USUAL_S);
        quick = follow(quick, v[row], t[row] - since, RECENT_S);
        since = t[row];
      }
      [now.reference, now.recent, now.hasCurrent] = [slow, quick, true];
      [now.knownT, now.lastT] = [since, since];
      ring.keep(block, from, to);
    },
    take(t: number, v: number, i: number, temp: number, phase: Phase | undefined) {
      if (!Number.isNaN(v)) {
        const sinceS = t - now.knownT;
        if (!(sinceS >= 0)) backT = t;
        if (t - backT < COMES_BACK_S && !(v <= now.reference)) now.reference = v;
        else if (phase !== 'deep')
          now.reference = follow(now.reference, v, sinceS, phase === 'after' ? AFTER_EVENT_S : USUAL_S);
        now.recent = follow(now.recent, v, sinceS, RECENT_S);
        now.knownT = t;
      }
      ring.add(t, v, i, temp);
      now.lastT = t;
    },
  });
}

/** A level that follows `v` with a time constant, s. */
function follow(level: number, v: number, sinceS: number, tauS: number): number {
  return sinceS < SILENCE_S ? level + (v - level) * Math.min(1, sinceS / tauS) : v;
}
