/** Stands unlike the others of the log: a sign to look closer, no fault. */
import type { Analysis, Stand } from '../../analysis/model.ts';
import { median, quantile, robustSd } from '../../battery/statistics.ts';
import { measure } from '../measure.ts';
import { sleepers, sleepTimeU } from '../stands.ts';

/** Fewer do not say what is usual. */
const LEAST_STANDS = 5;
/** Beyond so many standard deviations of the others; of normal scatter one in 500 million lies there, of real one in thousands. */
const FAR = 6;
/** What the same vehicle differs by from stand to stand without any reason: a twentieth, or a tenth of a time and half a minute. Common practice, no source. */
const LEAST = { drawShare: 0.05, drawA: 0.002, timeShare: 0.1, timeS: 30 };

export interface Unlike {
  readonly figure: 'sleep-draw' | 'sleep-time';
  /** Index into the stands. */
  readonly stand: number;
  readonly value: number;
  /** Of the others: their 5th, 50th and 95th percentile, and how many. */
  readonly usual: { readonly p05: number; readonly p50: number; readonly p95: number };
  readonly others: number;
}

export const unlikeStands = measure((analysis): readonly Unlike[] => {
  const draws = sleepers(analysis).map((stand) => ({ stand, value: stand.sleepDrawA.value, u: stand.sleepDrawA.u }));
  const times = analysis.stands.flatMap((stand) =>
    stand.timeToSleepS === null ? [] : [{ stand, value: stand.timeToSleepS, u: sleepTimeU(analysis) / 2 }],
  );
  const leastDraw = (usual: number) => Math.max(LEAST.drawA, LEAST.drawShare * Math.abs(usual));
  return [
    ...farOff(analysis, 'sleep-draw', draws, leastDraw),
    ...farOff(analysis, 'sleep-time', times, (usual) => Math.max(LEAST.timeS, LEAST.timeShare * usual)),
  ];
});

function farOff(
  { stands }: Analysis,
  figure: Unlike['figure'],
  values: readonly { readonly stand: Stand; readonly value: number; readonly u: number }[],
  least: (usual: number) => number,
): Unlike[] {
  if (values.length < LEAST_STANDS) return [];
  return values.flatMap((one) => {
    const others = values.filter((other) => other !== one).map(({ value }) => value);
    const usual = median(others);
    const spread = Math.max(robustSd(others), least(usual), one.u);
    if (Math.abs(one.value - usual) <= FAR * spread) return [];
    const at = (p: number) => quantile(others, p);
    const stand = stands.findIndex(({ start }) => start === one.stand.start);
    return [
      { figure, stand, value: one.value, usual: { p05: at(0.05), p50: usual, p95: at(0.95) }, others: others.length },
    ];
  });
}
