/** The usual week with wakes, their pattern and links put in, for the checks that ask about them. Times in s. */
import type { Analysis, Wake } from '../../src/analysis/model.ts';
import { circuitLinks, type Link } from '../../src/measures/circuits/links.ts';
import { type WakePattern, wakePatterns } from '../../src/measures/wakes/patterns.ts';
import { type Story, week } from './analysis-fixture.ts';

export interface Wakes {
  readonly story?: Partial<Story>;
  readonly everyS: number;
  readonly seconds: number;
  readonly amps: number;
  /** Whether the analysis found a period in them. */
  readonly byClock?: boolean;
  readonly links?: readonly Link[];
  /** What else differs in the analysis. */
  readonly changes?: Partial<Analysis>;
}

/** In every stand, from an hour after its begin, as long as there is room for sleep after the last. */
export function wakeful({ story, everyS, seconds, amps, byClock = true, links = [], changes }: Wakes): Analysis {
  const quiet = week(story);
  const chargeAh = (amps * seconds) / 3600;
  const wakes = quiet.stands.flatMap((stand, at): Wake[] => {
    const room = Math.max(0, Math.floor((stand.end - stand.start - 3600 - seconds - 600) / everyS) + 1);
    return Array.from({ length: room }, (_, k) => ({
      start: stand.start + 3600 + k * everyS,
      seconds,
      peakA: 1.5 * amps,
      meanA: amps,
      chargeAh,
      stand: at,
      channels: links.filter((link) => link.wakesWith > 0).map((link) => link.channel),
    }));
  });
  const days = quiet.stands.reduce((sum, stand) => sum + stand.asleepS, 0) / 86_400;
  const pattern: WakePattern = {
    count: wakes.length,
    periodS: byClock ? everyS : null,
    jitterS: byClock ? 0.01 * everyS : null,
    seconds,
    meanA: amps,
    chargeAhPerDay: (wakes.length * chargeAh) / days,
    channel: links.find((link) => link.chance < 0.01)?.channel ?? null,
    parts: wakes.map((_, k) => k),
  };
  const analysis = {
    ...quiet,
    wakes,
    periods: quiet.periods.flatMap((period) => {
      if (period.kind !== 'asleep') return [period];
      const inside = wakes.filter((wake) => wake.start > period.start && wake.start + seconds < period.end);
      const edges = [period.start, ...inside.flatMap((wake) => [wake.start, wake.start + seconds]), period.end];
      return edges.slice(1).map((end, k) => {
        const start = edges[k];
        const asleepAh = (period.chargeOutAh * (end - start)) / (period.end - period.start);
        return k % 2 === 0
          ? { ...period, start, end, chargeOutAh: asleepAh }
          : { ...period, kind: 'awake' as const, start, end, chargeOutAh: asleepAh + chargeAh };
      });
    }),
    ...changes,
  };
  return known(analysis, { patterns: [pattern], links });
}

/** The analysis, with what its measures shall be. */
export function known(
  analysis: Analysis,
  { patterns, links }: { patterns?: readonly WakePattern[]; links?: readonly Link[] },
): Analysis {
  if (patterns) wakePatterns.given(analysis, patterns);
  if (links) circuitLinks.given(analysis, links);
  return analysis;
}

export const link = (told: Partial<Link> = {}): Link => ({
  channel: 'Tracker supply',
  wakesWith: 40,
  wakesSeen: 41,
  chargeShare: 0.97,
  chance: 0.0005,
  lagS: 2,
  match: 1,
  settlings: null,
  ...told,
});
