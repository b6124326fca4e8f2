/** When each monitored circuit was on, below the draw: a few wakes (or key-offs) from the middle of the log, near enough to see which came first. */

import type { Span } from '../analysis/model.ts';
import { isActive } from '../analysis/sleep/wakes.ts';
import type { Tiles } from '../analysis/tiles/tiles.ts';
import {
  bandLayers,
  type Draft,
  factOf,
  findingOf,
  panel,
  rows,
  type Subject,
  timeX,
  topLevel,
  valueY,
} from './chart.ts';
import { laneMark, laneY, visible } from './drawing/lanes.ts';
import { numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE_PALE, ORANGE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, tilesToColumns } from './drawing/tiles-to-columns.ts';

export const name = 'circuit-link';
const SHOWN = 8;
/** Seen before the first and after the last of them, s, and the least and most that is shown at all. */
const AROUND_S = 600;
const LEAST_S = 3600;
const MOST_S = 86_400;
const LANE_PX = 16;

export function circuitLink(subject: Subject): Draft | null {
  const { analysis, session, findings, words, clock } = subject;
  const { tiles, wakes, has } = analysis;
  const channels = session.log.channels.flatMap((channel, c) =>
    has.channels[c] && channel.measures === 'supply' ? [{ channel, c }] : [],
  );
  const finding = findingOf(findings, name);
  const isOfSettlings = finding?.variant?.startsWith('settlings') || finding?.reason === 'few-settlings';
  const awake: readonly Span[] = isOfSettlings
    ? analysis.periods.filter(({ kind }) => kind === 'settling')
    : wakes.map((wake) => ({ start: wake.start, end: wake.start + wake.seconds }));
  if (channels.length === 0 || awake.length === 0 || !has.current) return null;

  const { start, end } = windowOf(awake, analysis.start, analysis.end);
  const runs = tilesToColumns(tiles, { mean: tiles.i, min: tiles.iMin, max: tiles.iMax }, start, end);
  const points = bandPoints(runs, clock.x, (amps) => rounded(-amps));
  // Between key-offs lie drives, whose currents would leave no room for what a parked vehicle draws.
  const isParked = (t: number) => awake.some((span) => t > clock.x(span.start) && t < clock.x(span.end));
  const draws = points.flatMap(({ t, lo, hi, y }) => {
    if (lo === null || hi === null || y === null) return [];
    return isOfSettlings ? (isParked(t) ? [y] : []) : [lo, hi];
  });
  if (draws.length === 0) return null;
  const { values, domain } = niceTicks(Math.min(0, ...draws), Math.max(...draws), 4);
  const yOf = (field: string) => valueY(field, numberTicks(values, words), domain);
  const draw = panel({
    title: words.say('axis.draw_a'),
    note: `${words.say(isOfSettlings ? 'note.circuit-settlings' : 'note.circuit-link')}; ${words.say('note.band')}`,
    height: 130,
    data: rows(points),
    layer: bandLayers(timeX(subject, start, end, false), yOf),
  });

  const labels = [
    words.say(isOfSettlings ? 'period.settling' : 'period.awake'),
    ...channels.map(({ channel }) => channel.label),
  ];
  const x = timeX(subject, start, end);
  const lane = (spans: readonly Span[], place: number, color: string) => ({
    ...laneMark(visible(spans, start, end), place, clock.x, color, LANE_PX - 6),
    encoding: { x, y: laneY(labels.map(shortened)) },
  });
  const lanes = panel({
    title: words.say('axis.circuits_on'),
    height: LANE_PX * labels.length,
    layer: [
      lane(awake, 0, BLUE_PALE),
      ...channels.map(({ channel, c }, k) =>
        lane(
          spansWhere(tiles, start, end, (tile) => isActive(tiles, c, tile, channel)),
          k + 1,
          ORANGE,
        ),
      ),
    ],
  });
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'circuit-link',
    title,
    spec: topLevel(title, { vconcat: [draw, lanes] }),
    altFacts: {
      circuits: channels.length,
      wakesWith: factOf(finding, 'wakesWith'),
      wakesSeen: factOf(finding, 'wakesSeen'),
      slowWith: factOf(finding, 'slowWith'),
      slowSeen: factOf(finding, 'slowSeen'),
      fromT: start,
      toT: end,
    },
  };
}

/** A few of them that follow each other, from the middle of all. */
function windowOf(awake: readonly Span[], logStart: number, logEnd: number): Span {
  const first = Math.max(0, Math.floor((awake.length - SHOWN) / 2));
  const shown = awake.slice(first, first + SHOWN).filter(({ start }) => start < awake[first].start + MOST_S);
  const last = shown[shown.length - 1];
  const start = Math.max(logStart, awake[first].start - AROUND_S);
  const end = Math.min(logEnd, Math.max(last.end + AROUND_S, start + LEAST_S));
  return { start, end };
}

function spansWhere(tiles: Tiles, from: number, to: number, is: (tile: number) => boolean): Span[] {
  const spans: { start: number; end: number }[] = [];
  for (let k = 0; k < tiles.n; k++) {
    if (tiles.t1[k] <= from || tiles.t0[k] >= to || !is(k)) continue;
    const last = spans.at(-1);
    if (last && tiles.t0[k] - last.end < 1e-6) last.end = tiles.t1[k];
    else spans.push({ start: tiles.t0[k], end: tiles.t1[k] });
  }
  return spans;
}

/** The room beside the lanes is that of numbers. */
const shortened = (label: string) => (label.length <= 12 ? label : `${label.slice(0, 11)}…`);
