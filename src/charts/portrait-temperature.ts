/** Voltage and current while driving against the battery's temperature. */
import type { Spread } from '../measures/portrait/distribution.ts';
import { chargingByTemperature, type TemperaturePart } from '../measures/portrait/temperature.ts';
import { type Draft, type Scene, topLevel } from './chart.ts';
import { fixed } from './drawing/numbers.ts';
import { spreadPanel } from './spread-panel.ts';

export const name = 'portrait-temperature';

export function portraitTemperature({ analysis, session, words }: Scene): Draft | null {
  const parts = chargingByTemperature(analysis, session);
  const [first, last] = [parts[0], parts.at(-1)];
  if (!first || !last || first === last) return null;
  const labels = parts.map(({ fromC, toC }) =>
    words.say('mark.degrees', { from: fixed(fromC, 0, words), to: fixed(toC, 0, words) }),
  );
  const panelOf = (heading: string, note: string, of: (part: TemperaturePart) => Spread | null) =>
    spreadPanel({ heading, note, labels, spreads: parts.map(of), words });
  const volts = panelOf(words.say('axis.voltage'), words.say(`note.${name}`), (part) => part.volts);
  const amps = parts.every((part) => part.amps !== null)
    ? [panelOf(words.say('axis.into_battery', { unit: 'A' }), '', (part) => part.amps)]
    : [];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, { vconcat: [volts, ...amps] }),
    altFacts: { fromC: first.fromC, toC: last.toC },
  };
}
