/** Voltage and current while driving against the time since the drive began: how it charges, and how it tapers. */
import { type ChargingPart, charging } from '../measures/portrait/charging.ts';
import type { Spread } from '../measures/portrait/distribution.ts';
import { type Draft, panel, rows, type Scene, tickAxis, topLevel, valueY } from './chart.ts';
import { numberTicks, rounded } from './drawing/numbers.ts';
import { BLUE, BLUE_PALE } from './drawing/theme.ts';
import { niceTicks } from './drawing/ticks.ts';
import type { Words } from './drawing/words.ts';

export const name = 'portrait-charging';

export function portraitCharging(scene: Scene): Draft | null {
  const { analysis, session, words } = scene;
  const { parts } = charging(analysis, session);
  if (parts.length < 2) return null;
  const title = words.say(`title.${name}`);
  const amps = parts.every((part) => part.amps !== null)
    ? boxes(parts, (part) => part.amps, words.say('axis.into_battery', { unit: 'A' }), '', words)
    : null;
  const volts = boxes(parts, (part) => part.volts, words.say('axis.voltage'), words.say('note.charging'), words);
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, { vconcat: amps ? [volts, amps] : [volts] }),
    altFacts: { drives: analysis.drives.length },
  };
}

function boxes(
  parts: readonly ChargingPart[],
  of: (part: ChargingPart) => Spread | null,
  heading: string,
  note: string,
  words: Words,
) {
  const shown = parts.flatMap((part, k) => {
    const spread = of(part);
    return spread ? [{ t: k, y: rounded(spread.p50), lo: rounded(spread.p05), hi: rounded(spread.p95) }] : [];
  });
  const { values, domain } = niceTicks(
    Math.min(...shown.map(({ lo }) => lo)),
    Math.max(...shown.map(({ hi }) => hi)),
    4,
  );
  const y = (field: string) => valueY(field, numberTicks(values, words), domain);
  const labels = parts.map(({ fromS, toS }) => {
    const minutes = toS === null ? `> ${fromS / 60}` : `${fromS / 60}–${toS / 60}`;
    return words.say('mark.minutes_of_drives', { minutes });
  });
  const x = {
    field: 't',
    type: 'quantitative',
    scale: { domain: [-0.5, parts.length - 0.5], nice: false },
    axis: { ...tickAxis({ values: parts.map((_, k) => k), labels }), title: null, grid: false },
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
