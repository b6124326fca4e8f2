/** The quarter of an hour of driving that holds the most bursts of charging: voltage and current, and when each burst was. */
import { bursts } from '../measures/portrait/bursts.ts';
import { bandLayers, type Draft, panel, rows, type Scene, topLevel, valueX, valueY } from './chart.ts';
import { laneMark, laneY } from './drawing/lanes.ts';
import { numberTicks, rounded } from './drawing/numbers.ts';
import { ORANGE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, type ColumnsOf, tilesToColumns } from './drawing/tiles-to-columns.ts';

export const name = 'portrait-bursts';
const STRETCH_S = 900;
const LANE_PX = 12;

export function portraitBursts(scene: Scene): Draft | null {
  const { analysis, session, words } = scene;
  const found = bursts(analysis, session);
  if (!found) return null;
  const { tiles, drives } = analysis;
  const inside = (from: number) => found.all.filter(({ start, end }) => start >= from && end <= from + STRETCH_S);
  const fullest = found.all.reduce((best, one) => (inside(one.start).length > inside(best.start).length ? one : best));
  const drive = drives.findLast(({ start }) => start <= fullest.start);
  if (!drive) return null;
  const from = Math.max(drive.start, fullest.start - STRETCH_S / 30);
  const to = Math.min(drive.end, from + STRETCH_S);
  const minutes = (s: number) => rounded((s - drive.start) / 60);
  const marks = niceTicks(minutes(from), minutes(to), 8);
  const x = valueX(
    't',
    numberTicks(
      marks.values.filter((value) => value >= minutes(from) && value <= minutes(to)),
      words,
    ),
    [minutes(from), minutes(to)],
    `${words.say('axis.since_drive')}, min`,
  );
  const part = (title: string, columns: ColumnsOf, height: number) => {
    const points = bandPoints(tilesToColumns(tiles, columns, from, to), minutes, rounded);
    const values = points.flatMap(({ lo, hi }) => (lo === null || hi === null ? [] : [lo, hi]));
    const ticks = niceTicks(Math.min(...values), Math.max(...values), 4);
    const y = (field: string) => valueY(field, numberTicks(ticks.values, words), ticks.domain);
    return panel({ title, height, data: rows(points), layer: bandLayers(x, y) });
  };
  const spans = inside(from).filter(({ end }) => end <= to);
  const lane = panel({
    title: words.say(`note.${name}`),
    height: LANE_PX,
    layer: [{ ...laneMark(spans, 0, minutes, ORANGE, LANE_PX - 2), encoding: { x, y: laneY(['']) } }],
  });
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, {
      vconcat: [
        part(words.say('axis.voltage'), { mean: tiles.v, min: tiles.vMin, max: tiles.vMax }, 110),
        part(words.say('axis.into_battery', { unit: 'A' }), { mean: tiles.i, min: tiles.iMin, max: tiles.iMax }, 110),
        lane,
      ],
    }),
    altFacts: { bursts: spans.length },
  };
}
