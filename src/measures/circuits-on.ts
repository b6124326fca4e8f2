/** Which monitored circuits were on, and when. Times in s since the epoch. */
import type { Analysis, Span } from '../analysis/model.ts';
import { isActive } from '../analysis/sleep/wakes.ts';
import type { Channel, Session } from '../manifest/session.ts';
import { measure } from './measure.ts';

/** A circuit that was on for most of `during`, and hardly ever in `otherwise`; null where there is none. */
export function circuitOnDuring(
  analysis: Analysis,
  session: Session,
  during: readonly Span[],
  otherwise: readonly Span[],
): string | null {
  const found = session.log.channels.find(
    (channel, c) =>
      channel.measures === 'supply' &&
      analysis.has.channels[c] &&
      shareOn(analysis, channel, c, during) > 0.8 &&
      shareOn(analysis, channel, c, otherwise) < 0.2,
  );
  return found?.label ?? null;
}

/** Supplies that were live in nearly all of the sleep, in the manifest's order. */
export const liveAsleep = measure((analysis, session): readonly string[] => {
  const asleep = analysis.periods.filter(({ kind }) => kind === 'asleep');
  return session.log.channels
    .filter(
      (channel, c) =>
        channel.measures === 'supply' && analysis.has.channels[c] && shareOn(analysis, channel, c, asleep) > 0.95,
    )
    .map(({ label }) => label);
});

/** Share of the time of these spans, in order and without overlap; NaN where they hold none. */
function shareOn({ tiles }: Analysis, channel: Channel, c: number, spans: readonly Span[]): number {
  let at = 0;
  let onS = 0;
  let seenS = 0;
  for (let k = 0; k < tiles.n && at < spans.length; k++) {
    while (at < spans.length && spans[at].end <= tiles.t0[k]) at++;
    if (at === spans.length || tiles.t1[k] <= spans[at].start || Number.isNaN(tiles.chMax[c][k])) continue;
    const seconds = Math.min(tiles.t1[k], spans[at].end) - Math.max(tiles.t0[k], spans[at].start);
    seenS += seconds;
    if (isActive(tiles, c, k, channel)) onS += seconds;
  }
  return onS / seenS;
}
