/** The usual way to sleep as a staircase, and below it when each circuit goes dark. */
import { circuits } from '../measures/portrait/circuits.ts';
import { shutdown } from '../measures/portrait/shutdown.ts';
import { portraitStates } from '../measures/portrait/states.ts';
import { type Draft, panel, rows, type Scene, topLevel, valueX, valueY } from './chart.ts';
import { pxAlong, withRoom } from './drawing/labels.ts';
import { laneMark, laneY } from './drawing/lanes.ts';
import { numberTicks, quantity, rounded, shownAs } from './drawing/numbers.ts';
import { BLUE, GREY, ORANGE, PLOT } from './drawing/theme.ts';

export const name = 'portrait-shutdown';
const DECADES_A = [0.001, 0.01, 0.1, 1, 10, 100, 1000];
/** Marks along an axis whose early seconds have as much room as its late minutes, s. */
const MARKS_S = [0, 30, 60, 120, 300, 600, 900, 1200, 1800, 2700, 3600, 5400, 7200, 10800, 14400, 21600];
const LANE_PX = 16;

export function portraitShutdown(scene: Scene): Draft | null {
  const { analysis, session, words } = scene;
  const { steps, settlings } = shutdown(analysis, session);
  if (steps.length === 0) return null;
  const asleepA = -(
    portraitStates(analysis, session)
      .find(({ kind }) => kind === 'asleep')
      ?.current?.quantile(0.5) ?? 0
  );
  const ends = steps.map((_, k) => steps.slice(0, k + 1).reduce((sum, { seconds }) => sum + seconds.p50, 0));
  const lastS = ends.at(-1) ?? 0;
  const dark = circuits(analysis, session).flatMap(({ channel, offAfterS }) =>
    offAfterS ? [{ channel, offS: offAfterS.p50 }] : [],
  );
  const spanS = 1.15 * Math.max(lastS, ...dark.map(({ offS }) => offS));
  const { unit, factor } = shownAs('s', spanS, words);
  const levels = [...steps.map(({ levelA }) => levelA.p50), asleepA].filter((a) => a > 0);
  const bottom = DECADES_A.findLast((a) => a <= Math.min(...levels)) ?? 0.001;
  const top = DECADES_A.find((a) => a >= Math.max(...levels)) ?? 1000;
  const decades = DECADES_A.filter((a) => a >= bottom && a <= top);
  const y = valueY('y', { values: decades, labels: decades.map((a) => quantity(a, 'A', words)) }, [bottom, top], {
    type: 'log',
  });
  const marks = MARKS_S.filter((s) => s <= spanS);
  const ticks = roomy(marks, spanS).map((s) => rounded(s * factor));
  const base = valueX(
    't',
    numberTicks(ticks, words),
    [0, rounded(spanS * factor)],
    `${words.say('axis.since_key_off')}, ${unit}`,
  );
  const x = { ...base, scale: { ...base.scale, type: 'sqrt' } };
  const at = (s: number) => rounded(Math.min(s, spanS) * factor);
  const corners = steps.flatMap(({ levelA }, k) => [
    { t: at(ends[k - 1] ?? 0), y: rounded(levelA.p50) },
    { t: at(ends[k] ?? 0), y: rounded(levelA.p50) },
  ]);
  const sleeping =
    asleepA > 0
      ? [
          { t: at(lastS), y: rounded(asleepA) },
          { t: at(spanS), y: rounded(asleepA) },
        ]
      : [];
  const labels = steps.map(({ levelA, seconds }, k) => {
    const fromS = ends[k - 1] ?? 0;
    return {
      t: at(((Math.sqrt(fromS) + Math.sqrt(ends[k] ?? 0)) / 2) ** 2),
      y: rounded(levelA.p50),
      label: `${quantity(levelA.p50, 'A', words)}, ${quantity(seconds.p50, 's', words)}`,
    };
  });
  const placed = withRoom(labels, ({ t }) => pxAlong(Math.sqrt(t), [0, Math.sqrt(spanS * factor)], PLOT));
  const stairs = panel({
    title: words.say('axis.draw'),
    note: words.say('note.portrait-shutdown', { n: settlings }),
    height: 170,
    layer: [
      {
        data: rows([...corners, ...sleeping]),
        mark: { type: 'line', color: BLUE, strokeWidth: 2 },
        encoding: { x, y },
      },
      {
        data: rows(placed),
        mark: { type: 'text', baseline: 'bottom', dy: -5, fontWeight: 600 },
        encoding: { x, y, text: { field: 'label' } },
      },
      {
        data: rows(sleeping.slice(1).map((point) => ({ ...point, label: quantity(asleepA, 'A', words) }))),
        mark: { type: 'text', align: 'left', baseline: 'middle', dx: 6, color: GREY },
        encoding: { x, y, text: { field: 'label' } },
      },
    ],
  });
  const title = words.say(`title.${name}`);
  const draft = { name, check: null, title, altFacts: { steps: steps.length, settlings } };
  if (dark.length === 0) return { ...draft, spec: topLevel(title, stairs) };
  const lanes = laneY(dark.map(() => ''));
  const bars = panel({
    title: words.say('axis.circuits_dark'),
    height: LANE_PX * dark.length,
    layer: dark.flatMap(({ channel, offS }, lane) => [
      { ...laneMark([{ start: 0, end: offS }], lane, at, ORANGE, LANE_PX - 6), encoding: { x, y: lanes } },
      {
        data: rows([{ t: at(offS), lane, label: `${channel}: ${quantity(offS, 's', words)}` }]),
        mark: {
          type: 'text',
          align: offS > 0.5 * spanS ? 'right' : 'left',
          dx: offS > 0.5 * spanS ? -6 : 6,
          baseline: 'middle',
          limit: PLOT / 2,
          color: offS > 0.5 * spanS ? 'white' : undefined,
        },
        encoding: { x, y: lanes, text: { field: 'label' } },
      },
    ]),
  });
  return { ...draft, spec: topLevel(title, { vconcat: [stairs, bars] }) };
}

/** Marks that have room for their numbers on the axis of square roots. */
function roomy(marks: readonly number[], spanS: number): number[] {
  const kept: number[] = [];
  const px = (s: number) => Math.sqrt(s / spanS) * PLOT;
  for (const mark of marks) if (kept.length === 0 || px(mark) - px(kept.at(-1) ?? 0) > 40) kept.push(mark);
  return kept;
}
