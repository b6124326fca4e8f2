/** When each monitored circuit comes on about key-on, the first on top: a dot at the median, a bar over nine tenths. */
import { circuits } from '../measures/portrait/circuits.ts';
import { type Draft, panel, rows, type Scene, topLevel, valueX } from './chart.ts';
import { laneY } from './drawing/lanes.ts';
import { numberTicks, quantity, rounded, shownAs } from './drawing/numbers.ts';
import { BLUE, BLUE_PALE, GREY, INK, PLOT } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'portrait-key-on';
const LANE_PX = 22;

export function portraitKeyOn({ analysis, session, words }: Scene): Draft | null {
  const shown = circuits(analysis, session)
    .flatMap(({ channel, onAfterS }) => (onAfterS ? [{ channel, ...onAfterS }] : []))
    .toSorted((a, b) => a.p50 - b.p50);
  if (shown.length === 0) return null;
  const lowS = Math.min(0, ...shown.map(({ p05 }) => p05));
  const highS = Math.max(1, ...shown.map(({ p95 }) => p95));
  const { unit, factor } = shownAs('s', Math.max(-lowS, highS), words);
  const at = (s: number) => rounded(s * factor);
  const marks = niceTicks(at(lowS - 0.05 * (highS - lowS)), at(highS + 0.05 * (highS - lowS)), 8);
  const x = valueX('t', numberTicks(marks.values, words), marks.domain, `${words.say('axis.since_key_on')}, ${unit}`);
  const [from, to] = marks.domain;
  const y = laneY(shown.map(() => ''));
  const points = shown.map(({ channel, p05, p50, p95 }, lane) => ({
    t: at(p50),
    lo: at(p05),
    hi: at(p95),
    lane,
    label: `${channel}: ${p50 < 0 ? '−' : '+'}${quantity(Math.abs(p50), 's', words)}`,
    isLate: (at(p95) - from) / (to - from) > 0.55,
  }));
  const labels = (isLate: boolean) => ({
    data: rows(
      points.filter((point) => point.isLate === isLate).map((point) => ({ ...point, t: isLate ? point.lo : point.hi })),
    ),
    mark: {
      type: 'text',
      align: isLate ? 'right' : 'left',
      dx: isLate ? -9 : 9,
      baseline: 'middle',
      limit: PLOT / 2,
      color: INK,
    },
    encoding: { x, y, text: { field: 'label' } },
  });
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(
      title,
      panel({
        title: words.say('axis.circuits_wake'),
        note: words.say(`note.${name}`),
        height: LANE_PX * shown.length,
        layer: [
          { data: rows([{ t: 0 }]), mark: { type: 'rule', color: GREY, strokeDash: [4, 3] }, encoding: { x } },
          {
            data: rows(points),
            mark: { type: 'rule', color: BLUE_PALE, strokeWidth: 8 },
            encoding: { x: { ...x, field: 'lo' }, x2: { field: 'hi' }, y },
          },
          {
            data: rows(points),
            mark: { type: 'point', color: BLUE, filled: true, size: 40, opacity: 1 },
            encoding: { x, y },
          },
          labels(false),
          labels(true),
        ],
      }),
    ),
    altFacts: { circuits: shown.length },
  };
}
