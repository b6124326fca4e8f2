/** When each monitored circuit was on, below the draw: a few wakes from the middle of the log, near enough to see which came first. */
import type { Wake } from '../analysis/analysis.ts';
import type { Tiles } from '../analysis/tiles.ts';
import { isActive } from '../analysis/wakes.ts';
import { type Draft, factOf, findingOf, panel, rows, type Subject, timeX, topLevel, valueY } from './chart.ts';
import { laneMark, laneY, type Span, visible } from './lanes.ts';
import { rounded, tickLabels } from './numbers.ts';
import { BLUE, BLUE_PALE, ORANGE } from './theme.ts';
import { niceTicks } from './ticks.ts';
import { bandPoints, tilesToColumns } from './tiles-to-columns.ts';

export const name = 'circuit-link';
const WAKES_SHOWN = 8;
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
  if (channels.length === 0 || wakes.length === 0 || !has.current) return null;

  const { start, end } = windowOf(wakes, analysis.start, analysis.end);
  const runs = tilesToColumns(tiles, { mean: tiles.i, min: tiles.iMin, max: tiles.iMax }, start, end);
  const points = bandPoints(runs, clock.x, (amps) => rounded(-amps));
  const draws = points.flatMap(({ lo, hi }) => (lo === null || hi === null ? [] : [lo, hi]));
  if (draws.length === 0) return null;
  const { values, domain } = niceTicks(Math.min(0, ...draws), Math.max(...draws), 4);
  const yOf = (field: string) => valueY(field, { values, labels: tickLabels(values, words) }, domain);
  const draw = panel({
    title: words.say('axis.draw_a'),
    note: `${words.say('note.circuit-link')}; ${words.say('note.band')}`,
    height: 130,
    data: rows(points),
    layer: [
      {
        mark: { type: 'area', color: BLUE_PALE, clip: true },
        encoding: { x: timeX(subject, start, end, false), y: yOf('lo'), y2: { field: 'hi' } },
      },
      {
        mark: { type: 'line', color: BLUE, strokeWidth: 1.2, clip: true },
        encoding: { x: timeX(subject, start, end, false), y: yOf('y') },
      },
    ],
  });

  const labels = [words.say('period.awake'), ...channels.map(({ channel }) => channel.label)];
  const x = timeX(subject, start, end);
  const lane = (spans: readonly Span[], place: number, color: string) => ({
    ...laneMark(visible(spans, start, end), place, clock.x, color, LANE_PX - 6),
    encoding: { x, y: laneY(labels.map(shortened)) },
  });
  const awake = wakes.map((wake) => ({ start: wake.start, end: wake.start + wake.seconds }));
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
  const finding = findingOf(findings, 'circuit-link');
  return {
    name,
    check: 'circuit-link',
    title,
    spec: topLevel(title, { vconcat: [draw, lanes] }),
    altFacts: {
      circuits: channels.length,
      wakesWith: factOf(finding, 'wakesWith'),
      wakesSeen: factOf(finding, 'wakesSeen'),
      fromT: start,
      toT: end,
    },
  };
}

/** A few wakes that follow each other, from the middle of all. */
function windowOf(wakes: readonly Wake[], logStart: number, logEnd: number): Span {
  const first = Math.max(0, Math.floor((wakes.length - WAKES_SHOWN) / 2));
  const shown = wakes.slice(first, first + WAKES_SHOWN).filter((wake) => wake.start < wakes[first].start + MOST_S);
  const last = shown[shown.length - 1];
  const start = Math.max(logStart, wakes[first].start - AROUND_S);
  const end = Math.min(logEnd, Math.max(last.start + last.seconds + AROUND_S, start + LEAST_S));
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
