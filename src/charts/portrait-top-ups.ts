/** Every top-up laid over the others: current in against the time since it began. */
import { type TopUp, topUps } from '../measures/portrait/top-ups.ts';
import { type Draft, panel, rows, type Scene, topLevel, valueX, valueY } from './chart.ts';
import { numberTicks, rounded, shownAs } from './drawing/numbers.ts';
import { BLUE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, type ColumnsOf, tilesToColumns } from './drawing/tiles-to-columns.ts';

export const name = 'portrait-top-ups';
const MOST = 30;
const COLUMNS = 160;

export function portraitTopUps(scene: Scene): Draft | null {
  const { analysis, session, words } = scene;
  const { tiles, has } = analysis;
  const all = topUps(analysis, session).all;
  if (all.length === 0) return null;
  // Evenly from all of the log.
  const shown = all.filter((_, k) => all.length <= MOST || k % Math.ceil(all.length / MOST) === 0);
  const spanS = Math.max(...shown.map(({ start, end }) => end - start));
  const { unit, factor } = shownAs('s', spanS, words);
  const marks = niceTicks(0, spanS * factor, 8);
  const x = valueX('t', numberTicks(marks.values, words), marks.domain, `${words.say('axis.since_top_up')}, ${unit}`);
  const curves = (columns: ColumnsOf) =>
    shown.map(({ start, end }: TopUp) =>
      bandPoints(
        tilesToColumns(tiles, columns, start, end, COLUMNS),
        (s) => rounded((s - start) * factor),
        rounded,
      ).map(({ t, y }) => ({ t, y })),
    );
  const part = (title: string, columns: ColumnsOf, height: number, note = '') => {
    const lines = curves(columns);
    const values = lines.flatMap((points) => points.flatMap(({ y }) => (y === null ? [] : [y])));
    const ticks = niceTicks(Math.min(...values), Math.max(...values), 4);
    const y = valueY('y', numberTicks(ticks.values, words), ticks.domain);
    return panel({
      title,
      note,
      height,
      layer: lines.map((points) => ({
        data: rows(points),
        mark: { type: 'line', color: BLUE, strokeWidth: 1.2, opacity: 0.6, clip: true },
        encoding: { x, y },
      })),
    });
  };
  const title = words.say(`title.${name}`);
  const volts = { mean: tiles.v, min: tiles.v, max: tiles.v };
  const amps = { mean: tiles.i, min: tiles.i, max: tiles.i };
  const note = words.say('note.portrait-top-ups', { n: shown.length });
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, {
      vconcat: [
        ...(has.current ? [part(words.say('axis.into_battery', { unit: 'A' }), amps, 130, note)] : []),
        part(words.say('axis.voltage'), volts, 80),
      ],
    }),
    altFacts: { topUps: all.length },
  };
}
