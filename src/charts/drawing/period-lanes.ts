/** What the vehicle did, one lane a kind: told by place and word, so that it reads without colour. */
import type { PeriodKind, VehicleEvent } from '../../analysis/model.ts';
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
/** What happened besides, above them: each lasts seconds and is drawn so that it is seen. */
const EVENT_LANES: readonly (readonly [VehicleEvent['kind'], string])[] = [
  ['failed-start', ORANGE],
  ['long-start', ORANGE],
  ['heavy-load', ORANGE],
];
const LANE_PX = 13;

/** The word of a kind, or of what the vehicle's own converter puts in while parked. */
export const kindWord = (kind: PeriodKind | 'top-up', words: Words): string =>
  kind === 'top-up' ? words.say('mark.top_up') : words.say(`period.${kind}`);

export function periodLanes(scene: Scene) {
  const { analysis, clock, words } = scene;
  const lanes = [
    ...EVENT_LANES.map(([kind, color]) => {
      const own = analysis.events.filter((event) => event.kind === kind);
      return { label: `event.${kind}`, color, spans: own.map((e) => ({ start: e.start, end: e.start + e.seconds })) };
    }),
    ...LANES.map(([kind, color]) => ({
      label: `period.${kind}`,
      color,
      spans: analysis.periods.filter((period) => period.kind === kind),
    })),
  ].filter(({ spans }) => spans.length > 0);
  const x = timeX(scene, analysis.start, analysis.end);
  const y = laneY(lanes.map(({ label }) => words.say(label)));
  const layer = lanes.map(({ spans, color }, lane) => {
    const seen = visible(spans, analysis.start, analysis.end);
    return { ...laneMark(seen, lane, clock.x, color, LANE_PX - 4), encoding: { x, y } };
  });
  return panel({ title: words.say('axis.periods'), height: LANE_PX * lanes.length, layer });
}
