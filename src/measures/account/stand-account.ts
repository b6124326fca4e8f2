/**
 * Where the charge of each stand went. Every ampere-hour has one place: the settling; the sleeping level, which flows also
 * below wakes and loads; wakes; loads that stay; what has no place. All that is said of a stand's charge uses this division.
 */
import type { Analysis, Span, Stand, Wake } from '../../analysis/model.ts';
import type { Session } from '../../manifest/session.ts';
import { limitOf } from '../limit.ts';
import { measure } from '../measure.ts';
import { total } from '../spans.ts';
import { SLEEP_WITHIN } from '../stands.ts';
import { type AwakeRun, awakeRuns, periodsOf } from './awake-runs.ts';
import { type HeldLoad, heldLoads, tailOf } from './held-loads.ts';
import { levelOf, sleepingLevel } from './sleeping-level.ts';

/** Ah. All but `fedAh` are parts of the stand's charge out, which they add up to; `fedAh` was put in meanwhile. */
export interface StandAccount {
  readonly settlingAh: number;
  readonly asleepAh: number;
  readonly wakesAh: number;
  readonly heldAh: number;
  readonly unknownAh: number;
  readonly fedAh: number;
  readonly held: readonly HeldLoad[];
  /** In order of time: what of each stretch awake is a wake's, or has no place. */
  readonly awake: readonly AwakeShare[];
}

export interface AwakeShare extends Span {
  /** Above the sleeping level, and without a load that stays, Ah. */
  readonly aboveAh: number;
}

type Parts = Omit<StandAccount, 'fedAh' | 'held' | 'awake'>;

/** One for each stand, in order. */
export const standAccounts = measure((analysis, session): readonly StandAccount[] => {
  const all = heldLoads(analysis, session);
  return analysis.stands.map((stand, at) => {
    const held = all.filter((load) => load.stand === at);
    const runs = awakeRuns(analysis, stand);
    const parts = runs.map((run) =>
      partsOf(
        analysis,
        session,
        stand,
        run,
        held.find((load) => load.start === run.start),
      ),
    );
    const inside = periodsOf(analysis, stand);
    const sum = (of: (part: Parts) => number) => total(parts, of);
    return {
      settlingAh: sum((part) => part.settlingAh),
      asleepAh:
        sum((part) => part.asleepAh) + total(inside, ({ kind, chargeOutAh }) => (kind === 'asleep' ? chargeOutAh : 0)),
      wakesAh: sum((part) => part.wakesAh),
      heldAh: sum((part) => part.heldAh),
      unknownAh: sum((part) => part.unknownAh),
      fedAh: fedAh(analysis, stand),
      held,
      awake: runs.map(({ start, end }, k) => ({
        start,
        end,
        aboveAh: (parts[k]?.wakesAh ?? 0) + (parts[k]?.unknownAh ?? 0),
      })),
    };
  });
});

/** What the accounts of the stands give to each wake, Ah above the sleeping level; in the order of the analysis' wakes. */
export const wakeCharges = measure((analysis, session): ReadonlyMap<Wake, number> => {
  const all = standAccounts(analysis, session).flatMap(({ awake }) => awake);
  let at = 0;
  return new Map(
    analysis.wakes.map((wake) => {
      while (at < all.length && (all[at]?.end ?? 0) <= wake.start) at++;
      const own = all[at];
      if (!own || own.start > wake.start) return [wake, wake.chargeAh];
      // Of a stretch that holds more than this wake (a hole lies between), its share.
      return [wake, own.aboveAh * Math.min(1, wake.seconds / (own.end - own.start))];
    }),
  );
});

const NOTHING: Parts = { settlingAh: 0, asleepAh: 0, wakesAh: 0, heldAh: 0, unknownAh: 0 };

/** The charge of one run, divided. */
function partsOf(analysis: Analysis, session: Session, stand: Stand, run: AwakeRun, load: HeldLoad | undefined): Parts {
  const level = sleepingLevel(analysis, session);
  const isSettling = run.isFirst && isFromKeyOff(analysis, run);
  const isLong = run.seconds > limitOf(SLEEP_WITHIN, session).value;
  if (isSettling && !load && !isLong) return { ...NOTHING, settlingAh: run.outAh };
  const heldAh = load?.chargeAh ?? 0;
  const overAh = run.outAh - heldAh;
  const asleepAh = Math.max(0, Math.min(overAh, (levelOf(stand, level) * run.seconds) / 3600));
  const restAh = overAh - asleepAh;
  if (isSettling) {
    const tailS = run.end - tailOf(run, level.settleS).start;
    // Below the shutdown itself nothing is set apart: it has all of its charge but the load's.
    const shareS = Math.max(0, run.seconds - tailS);
    const baseAh = Math.max(0, Math.min(asleepAh, (levelOf(stand, level) * shareS) / 3600));
    return { ...NOTHING, settlingAh: restAh + baseAh, asleepAh: asleepAh - baseAh, heldAh };
  }
  return isLong && !load && !run.isToppedUp
    ? { ...NOTHING, asleepAh, unknownAh: restAh }
    : { ...NOTHING, asleepAh, wakesAh: restAh, heldAh };
}

function isFromKeyOff({ periods }: Analysis, run: AwakeRun): boolean {
  return periods.find(({ start }) => start >= run.start)?.kind === 'settling';
}

/** By a shop charger or the vehicle's own converter. */
function fedAh(analysis: Analysis, stand: Stand): number {
  return total(periodsOf(analysis, stand), ({ kind, start, end, chargeInAh }) => {
    const isToppedUp = analysis.topUps.some((span) => span.start < end && span.end > start);
    return kind === 'on-charger' || (kind === 'awake' && isToppedUp) ? chargeInAh : 0;
  });
}
