/** The whole session at a glance: voltage, current, temperature and what the vehicle did, one above the other. */

import type { Tiles } from '../analysis/tiles/tiles.ts';
import { type Draft, panel, rows, type Scene, timeX, topLevel, valueY } from './chart.ts';
import { pxAlong } from './drawing/labels.ts';
import { type Moment, momentsOf } from './drawing/moments.ts';
import { numberTicks, quantity, rounded } from './drawing/numbers.ts';
import { periodLanes } from './drawing/period-lanes.ts';
import { BLUE, BLUE_PALE, INK, LEFT, PLOT } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import { bandPoints, type ColumnsOf, tilesToColumns } from './drawing/tiles-to-columns.ts';
import type { Words } from './drawing/words.ts';

export const name = 'session-overview';
/** Around zero the current axis is linear over about the sensor's noise, within these bounds. */
const LINEAR_A = { least: 0.002, most: 0.0033 };
/** px: a mark of a note or a photo, and the room that it takes. */
const MARK_PX = 18;
const MOST_ROWS = 4;

export function sessionOverview(scene: Scene): Draft | null {
  const { analysis, words } = scene;
  if (!(analysis.end > analysis.start)) return null;
  const panels = [momentsPanel(scene), voltagePanel(scene), currentPanel(scene), temperaturePanel(scene)];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, { vconcat: [...panels.filter((part) => part !== null), periodLanes(scene)] }),
    altFacts: {
      startT: analysis.start,
      endT: analysis.end,
      stands: analysis.stands.length,
      drives: analysis.drives.length,
      wakes: analysis.wakes.length,
    },
  };
}

function voltagePanel(scene: Scene) {
  const { tiles } = scene.analysis;
  const { words } = scene;
  const [low, high] = extremes(tiles.n, tiles.vMin, tiles.vMax);
  if (!(high >= low)) return null;
  const { values, domain } = niceTicks(low, high, 4);
  const ticks = numberTicks(values, words);
  return bandPanel(
    scene,
    { title: words.say('axis.voltage'), note: words.say('note.band'), height: 110 },
    columnsOfV(tiles),
    (field) => valueY(field, ticks, domain),
  );
}

const columnsOfV = (tiles: Tiles): ColumnsOf => ({ mean: tiles.v, min: tiles.vMin, max: tiles.vMax });
const columnsOfI = (tiles: Tiles): ColumnsOf => ({ mean: tiles.i, min: tiles.iMin, max: tiles.iMax });
const columnsOfTemp = (tiles: Tiles): ColumnsOf => ({ mean: tiles.temp, min: tiles.temp, max: tiles.temp });

/**
 * Sleeping mA and cranking hundreds of A share one axis: linear within a few mA of zero, beyond that each decade takes the
 * same height, up for current into the battery and down for current out of it.
 */
function currentPanel(scene: Scene) {
  const { tiles, has } = scene.analysis;
  const { words } = scene;
  const [low, high] = extremes(tiles.n, tiles.iMin, tiles.iMax);
  if (!has.current || !(high >= low)) return null;
  const constant = linearAround(scene.analysis);
  const decades = [0.01, 0.1, 1, 10, 100, 1000].filter((a) => a >= 3 * constant);
  const domain = [Math.min(low * 1.3, -0.1), Math.max(high * 1.3, 0.1)];
  const values = [...decades.map((a) => -a), 0, ...decades].filter((a) => a >= domain[0] && a <= domain[1]);
  const ticks = { values, labels: values.map((a) => signedLabel(a, words)) };
  return bandPanel(
    scene,
    { title: words.say('axis.current'), note: words.say('note.current'), height: 180 },
    columnsOfI(tiles),
    (field) => valueY(field, ticks, domain, { type: 'symlog', constant }),
  );
}

/** A: about the sensor's noise. */
export function linearAround({ noiseA }: Pick<Scene['analysis'], 'noiseA'>): number {
  return Math.min(Math.max(LINEAR_A.least, noiseA ?? 0), LINEAR_A.most);
}

function signedLabel(amps: number, words: Words): string {
  if (amps === 0) return '0';
  return `${amps < 0 ? '−' : '+'}${quantity(Math.abs(amps), 'A', words)}`;
}

function temperaturePanel(scene: Scene) {
  const { tiles, has, temperature } = scene.analysis;
  const { words } = scene;
  if (!has.temperature || temperature === null) return null;
  const { values, domain } = niceTicks(temperature.min, temperature.max, 3);
  const ticks = numberTicks(values, words);
  return bandPanel(scene, { title: words.say('axis.temperature'), height: 50 }, columnsOfTemp(tiles), (field) =>
    valueY(field, ticks, domain),
  );
}

function bandPanel(
  scene: Scene,
  look: { readonly title: string; readonly note?: string; readonly height: number },
  columns: ColumnsOf,
  yOf: (field: string) => object,
) {
  const { analysis, clock } = scene;
  const runs = tilesToColumns(analysis.tiles, columns, analysis.start, analysis.end);
  const x = timeX(scene, analysis.start, analysis.end, false);
  const band = {
    mark: { type: 'area', color: BLUE_PALE },
    encoding: { x, y: yOf('lo'), y2: { field: 'hi' } },
  };
  const line = {
    mark: { type: 'line', color: BLUE, strokeWidth: 1.1, strokeJoin: 'round' },
    encoding: { x, y: yOf('y') },
  };
  const layer = columns.min === columns.max ? [line] : [band, line];
  return panel({ ...look, data: rows(bandPoints(runs, clock.x, rounded)), layer });
}

/** Numbered marks where the session has a note or a photo; the page lists both under the same numbers. */
function momentsPanel(scene: Scene) {
  const { analysis, session, clock, words } = scene;
  const seen = momentsOf(session.notes, session.photos).filter(
    ({ atMs }) => atMs >= analysis.start * 1000 && atMs <= analysis.end * 1000,
  );
  const px = ({ atMs }: Moment) => pxAlong(atMs / 1000, [analysis.start, analysis.end], PLOT);
  const kinds = [
    { isPhoto: false, shape: 'circle', size: 200, label: words.say('axis.notes') },
    { isPhoto: true, shape: 'square', size: 225, label: words.say('axis.photos') },
  ];
  const lanes = kinds.flatMap(({ isPhoto, label, ...look }) => {
    const own = seen.filter(({ photo }) => (photo !== null) === isPhoto);
    return inRows(own, px).map((marks, k) => ({ marks, look, label: k === 0 ? label : '' }));
  });
  if (lanes.length === 0) return null;
  const x = { ...timeX(scene, analysis.start, analysis.end, false), axis: null };
  const layer = lanes.flatMap(({ marks, look, label }, lane) => {
    const data = rows(marks.map(({ atMs, number }) => ({ t: clock.x(atMs / 1000), label: String(number) })));
    const y = { value: (lane + 0.5) * MARK_PX };
    return [
      {
        data,
        mark: { type: 'point', ...look, filled: true, color: INK, opacity: 1 },
        encoding: { x, y },
      },
      {
        data,
        mark: { type: 'text', color: 'white', fontWeight: 600, fontSize: 10 },
        encoding: { x, y, text: { field: 'label' } },
      },
      {
        data: rows([{ label }]),
        mark: { type: 'text', align: 'left', fontWeight: 600, fontSize: 12 },
        encoding: { x: { value: -LEFT }, y, text: { field: 'label' } },
      },
    ];
  });
  return { width: PLOT, height: MARK_PX * lanes.length, layer };
}

/** Each mark in the first row that has room for it; where many stand at one place, the last row takes them all. */
function inRows(marks: readonly Moment[], px: (mark: Moment) => number): Moment[][] {
  const placed: Moment[][] = [];
  for (const mark of marks) {
    const free = placed.find((row) => px(mark) - px(row[row.length - 1]) >= MARK_PX) ?? placed[MOST_ROWS - 1];
    if (free) free.push(mark);
    else placed.push([mark]);
  }
  return placed;
}

/** Over the first `n`; the arrays may be longer. */
function extremes(n: number, min: Float64Array, max: Float64Array): [number, number] {
  let [low, high] = [Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];
  for (let k = 0; k < n; k++) {
    if (min[k] < low) low = min[k];
    if (max[k] > high) high = max[k];
  }
  return [low, high];
}
