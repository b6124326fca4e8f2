/** Voltage, and current below it, of the cranks laid over each other from the moment each began. */
import type { Crank } from '../analysis/model.ts';
import { INRUSH_S } from '../battery/cranking.ts';
import { type Draft, findingOf, limitLine, panel, rows, type Subject, topLevel, valueX, valueY } from './chart.ts';
import { limitWords, numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, GREY, ORANGE, PALE } from './drawing/theme.ts';
import { thinned } from './drawing/thinned.ts';
import { niceTicks } from './drawing/ticks.ts';

export const name = 'crank-voltage';
/** s around the crank that are shown, out of what the analysis kept. */
const BEFORE_S = 0.5;
const AFTER_S = 2.5;
const MOST_CRANKS = 10;
const COLUMNS = 120;
const FEW = 30;

export function crankVoltage(subject: Subject): Draft | null {
  const { analysis, findings, words, clock } = subject;
  const kept = analysis.cranks.filter((crank) => crank.wave.t.length > 1);
  if (kept.length === 0) return null;
  const shown = choose(kept);
  const worst = shown.reduce((low, crank) => (judgedV(crank) < judgedV(low) ? crank : low));
  const untilS = Math.max(AFTER_S, Math.min(worst.seconds + 1, 10));
  // The lowest comes last, so that it lies on top.
  const lines = [...shown.filter((crank) => crank !== worst), worst].map((crank) => ({
    crank,
    ...lineOf(crank, untilS),
  }));
  const limit = findingOf(findings, 'crank-voltage')?.limit;

  const ticks = niceTicks(-BEFORE_S, untilS, 7).values.filter((s) => s >= -BEFORE_S && s <= untilS);
  const curves = (pick: 'v' | 'i', xOf: object, y: object) =>
    lines.map(({ crank, [pick]: points }) => ({
      data: rows(points),
      mark: {
        type: 'line',
        clip: true,
        // A slow log's few samples are shown as such, so that nobody reads the lines between them.
        ...(points.length < FEW ? { point: { size: 24, filled: true, color: crank === worst ? ORANGE : BLUE } } : {}),
        color: crank === worst ? ORANGE : BLUE,
        strokeWidth: crank === worst ? 1.8 : 1,
        opacity: crank === worst ? 1 : 0.55,
      },
      encoding: { x: xOf, y },
    }));
  const volts = niceTicks(
    ...reach(
      lines.flatMap(({ v }) => v),
      limit?.value,
    ),
    5,
  );
  const y = valueY('y', numberTicks(volts.values, words), volts.domain);
  const inrush = { t: 0, end: INRUSH_S, label: words.say('mark.inrush') };
  const label = {
    t: untilS,
    label: words.say('mark.lowest', { day: clock.day(worst.at), time: clock.time(worst.at) }),
  };
  const hasCurrent = lines.some(({ i }) => i.length > 0);
  const xBottom = valueX('t', numberTicks(ticks, words), [-BEFORE_S, untilS], words.say('axis.since_crank'));
  // One set of labels serves both panels.
  const xVolts = hasCurrent ? { ...xBottom, axis: { ...xBottom.axis, labels: false, title: null } } : xBottom;
  const voltage = panel({
    title: words.say('axis.voltage'),
    note:
      kept.length > shown.length
        ? words.say('note.some-cranks', { shown: shown.length, all: analysis.cranks.length })
        : words.say('note.crank-voltage'),
    height: 200,
    layer: [
      { data: rows([inrush]), mark: { type: 'rect', color: PALE }, encoding: { x: xVolts, x2: { field: 'end' } } },
      {
        data: rows([inrush]),
        mark: { type: 'text', align: 'left', baseline: 'bottom', dx: 4, dy: -4, color: GREY },
        encoding: { x: xVolts, y: { value: 200 }, text: { field: 'label' } },
      },
      ...curves('v', xVolts, y),
      ...(limit ? limitLine(y, rounded(limit.value), limitWords(limit.value, 'V', words)) : []),
      {
        data: rows([label]),
        mark: { type: 'text', align: 'right', baseline: 'bottom', dx: -4, dy: -4, fontWeight: 600 },
        encoding: { x: xVolts, y: { value: 200 }, text: { field: 'label' } },
      },
    ],
  });
  const title = words.say(`title.${name}`);
  return {
    name,
    check: 'crank-voltage',
    title,
    spec: topLevel(title, hasCurrent ? { vconcat: [voltage, currentPanel()] } : voltage),
    altFacts: {
      cranks: analysis.cranks.length,
      shown: shown.length,
      worstT: worst.at,
      worstV: worst.voltsCranking?.value ?? null,
      leastV: Math.min(...analysis.cranks.map((crank) => crank.voltsMin)),
      limitV: limit?.value ?? null,
    },
  };

  function currentPanel() {
    const amps = niceTicks(
      ...reach(
        lines.flatMap(({ i }) => i),
        0,
      ),
      4,
    );
    const yAmps = valueY('y', numberTicks(amps.values, words), amps.domain);
    return panel({ title: words.say('axis.draw_a'), height: 90, layer: curves('i', xBottom, yAmps) });
  }
}

/** By what is judged, the plateau; by the deepest dip where the log is too coarse for that. */
const judgedV = (crank: Crank) => crank.voltsCranking?.value ?? crank.voltsMin;

/** The lowest, and others spread evenly over the rest, in order of time. */
function choose(cranks: readonly Crank[]): readonly Crank[] {
  if (cranks.length <= MOST_CRANKS) return cranks;
  const byVolts = [...cranks].sort((a, b) => judgedV(a) - judgedV(b));
  const step = (byVolts.length - 1) / (MOST_CRANKS - 1);
  const chosen = new Set(Array.from({ length: MOST_CRANKS }, (_, k) => byVolts[Math.round(k * step)]));
  return cranks.filter((crank) => chosen.has(crank));
}

interface Point {
  readonly t: number;
  readonly y: number;
}

function lineOf({ at, wave }: Crank, untilS: number): { readonly v: readonly Point[]; readonly i: readonly Point[] } {
  const pointsOf = (values: Float64Array, sign: number): readonly Point[] => {
    const points = Array.from(wave.t, (t, k) => ({ t: rounded(t - at), y: rounded(sign * values[k]) }));
    return thinned(
      points.filter(({ t, y }) => t >= -BEFORE_S && t <= untilS && !Number.isNaN(y)),
      COLUMNS,
    );
  };
  return { v: pointsOf(wave.v, 1), i: pointsOf(wave.i, -1) };
}

function reach(points: readonly Point[], alsoHold: number | undefined): [number, number] {
  const values = points.map(({ y }) => y);
  if (alsoHold !== undefined) values.push(alsoHold);
  return [Math.min(...values), Math.max(...values)];
}
