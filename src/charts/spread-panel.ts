/** A panel of spreads side by side: a bar from the 5th to the 95th percentile, a dot at the median, a line through the dots. */
import type { Spread } from '../measures/portrait/distribution.ts';
import { panel, rows, tickAxis, valueY } from './chart.ts';
import { numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, BLUE_PALE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import type { Words } from './drawing/words.ts';

/** What driving shows in one part of it: of its time, say, or of a range of temperatures. */
interface Part {
  readonly volts: Spread | null;
  /** Null where the log has no current. */
  readonly amps: Spread | null;
}

/** Voltage, and current where every part has it, one below the other; `labels`: one for each part. */
export function drivingPanels(parts: readonly Part[], labels: readonly string[], note: string, words: Words) {
  const panelOf = (heading: string, said: string, of: (part: Part) => Spread | null) =>
    spreadPanel({ heading, note: said, labels, spreads: parts.map(of), words });
  const volts = panelOf(words.say('axis.voltage'), note, (part) => part.volts);
  const amps = parts.every((part) => part.amps !== null)
    ? [panelOf(words.say('axis.into_battery', { unit: 'A' }), '', (part) => part.amps)]
    : [];
  return { vconcat: [volts, ...amps] };
}

/** `labels`: one beneath each spread; what is null is left out. */
function spreadPanel(parts: {
  readonly heading: string;
  readonly note: string;
  readonly labels: readonly string[];
  readonly spreads: readonly (Spread | null)[];
  readonly words: Words;
}) {
  const { heading, note, labels, spreads, words } = parts;
  const shown = spreads.flatMap((spread, k) =>
    spread ? [{ t: k, y: rounded(spread.p50), lo: rounded(spread.p05), hi: rounded(spread.p95) }] : [],
  );
  const { values, domain } = niceTicks(
    Math.min(...shown.map(({ lo }) => lo)),
    Math.max(...shown.map(({ hi }) => hi)),
    4,
  );
  const y = (field: string) => valueY(field, numberTicks(values, words), domain);
  const x = {
    field: 't',
    type: 'quantitative',
    scale: { domain: [-0.5, labels.length - 0.5], nice: false },
    axis: { ...tickAxis({ values: labels.map((_, k) => k), labels }), title: null, grid: false },
  };
  return panel({
    title: heading,
    note,
    height: 100,
    data: rows(shown),
    layer: [
      {
        mark: { type: 'rule', color: BLUE_PALE, strokeWidth: 14 },
        encoding: { x, y: y('lo'), y2: { field: 'hi' } },
      },
      { mark: { type: 'line', color: BLUE, strokeWidth: 1.4 }, encoding: { x, y: y('y') } },
      { mark: { type: 'point', color: BLUE, filled: true, size: 34, opacity: 1 }, encoding: { x, y: y('y') } },
    ],
  });
}
