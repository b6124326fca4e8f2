/** What a parked vehicle does while it does not sleep: from one sleep, or key-off, to the next sleep, or key-on. */
import type { Analysis, Period, Span, Stand } from '../../analysis/model.ts';
import { tilesWithin } from '../../analysis/tiles/tiles-in.ts';
import { weightedQuantile } from '../../battery/statistics.ts';

export interface AwakeRun extends Span {
  /** Time with current, s, and charge drawn in it, Ah. */
  readonly seconds: number;
  readonly outAh: number;
  /** It begins with the stand: with key-off, or before the log. */
  readonly isFirst: boolean;
  /** It lasts until the stand ends. */
  readonly isLast: boolean;
  /** The vehicle's own converter charged meanwhile. */
  readonly isToppedUp: boolean;
}

/** A hole in the log shorter than this parts nothing, s. */
const SHORT_HOLE_S = 600;

/** Periods of a stand, in order. */
export function periodsOf({ periods }: Analysis, { start, end }: Span): Period[] {
  return periods.filter((period) => period.start >= start && period.end <= end);
}

export function awakeRuns(analysis: Analysis, stand: Stand): AwakeRun[] {
  const runs: Period[][] = [];
  let open = false;
  for (const period of periodsOf(analysis, stand)) {
    if (period.kind === 'settling' || period.kind === 'awake') {
      if (open) runs.at(-1)?.push(period);
      else runs.push([period]);
      open = true;
    } else if (period.kind !== 'no-data' || period.end - period.start > SHORT_HOLE_S) open = false;
  }
  return runs.flatMap((run) => {
    const [first, last] = [run[0], run.at(-1)];
    if (!first || !last) return [];
    const span = { start: first.start, end: last.end };
    return [
      {
        ...span,
        seconds: run.reduce((sum, { start, end }) => sum + end - start, 0),
        outAh: run.reduce((sum, { chargeOutAh }) => sum + chargeOutAh, 0),
        isFirst: first.start <= stand.start,
        isLast: last.end >= stand.end,
        isToppedUp: analysis.topUps.some(({ start, end }) => start < span.end && end > span.start),
      },
    ];
  });
}

/** What flows most of the time: the middle draw of a span, and the mean of all that is not far above it, A; null without a reading. */
export function steadyDraw(
  { tiles }: Analysis,
  span: Span,
): { readonly middleA: number; readonly meanA: number } | null {
  const inside = tilesWithin(tiles, span).filter((k) => !Number.isNaN(tiles.i[k]) && tiles.iCov[k] > 0);
  if (inside.length === 0) return null;
  const draws = inside.map((k) => -tiles.i[k]);
  const seconds = inside.map((k) => tiles.iCov[k]);
  const middleA = weightedQuantile(draws, seconds, 0.5);
  const mostA = 2 * Math.abs(middleA) + 0.05;
  let [charge, time] = [0, 0];
  for (const k of inside) {
    if (-tiles.i[k] > mostA) continue;
    charge -= tiles.netAs[k];
    time += tiles.iCov[k];
  }
  return { middleA, meanA: time > 0 ? charge / time : middleA };
}
