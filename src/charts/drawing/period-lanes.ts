/** What the vehicle did, one lane a kind: told by place and word, so that it reads without colour. */
import type { PeriodKind } from '../../analysis/model.ts';
import { panel, type Scene, timeX } from '../chart.ts';
import { laneMark, laneY, visible } from './lanes.ts';
import { BLUE, BLUE_PALE, GREY, INK, ORANGE, ORANGE_PALE } from './theme.ts';
import type { Words } from './words.ts';

/** Top to bottom: from busiest to none. */
const LANES: readonly (readonly [PeriodKind, string])[] = [
  ['cranking', INK],
  ['driving', BLUE],
  ['key-on', GREY],
  ['settling', ORANGE_PALE],
  ['awake', ORANGE],
  ['asleep', BLUE_PALE],
  ['on-charger', GREY],
  ['disconnected', GREY],
  ['no-data', INK],
  ['unknown', GREY],
];
const LANE_PX = 13;

/** The word of a kind, or of what the vehicle's own converter puts in while parked. */
export const kindWord = (kind: PeriodKind | 'top-up', words: Words): string =>
  kind === 'top-up' ? words.say('mark.top_up') : words.say(`period.${kind}`);

export function periodLanes(scene: Scene) {
  const { analysis, clock, words } = scene;
  const lanes = LANES.filter(([kind]) => analysis.periods.some((period) => period.kind === kind));
  const x = timeX(scene, analysis.start, analysis.end);
  const y = laneY(lanes.map(([kind]) => words.say(`period.${kind}`)));
  const layer = lanes.map(([kind, color], lane) => {
    const spans = visible(
      analysis.periods.filter((period) => period.kind === kind),
      analysis.start,
      analysis.end,
    );
    return { ...laneMark(spans, lane, clock.x, color, LANE_PX - 4), encoding: { x, y } };
  });
  return panel({ title: words.say('axis.periods'), height: LANE_PX * lanes.length, layer });
}
