/** Voltage and current while driving against the battery's temperature. */
import { chargingByTemperature } from '../measures/portrait/temperature.ts';
import { type Draft, type Scene, topLevel } from './chart.ts';
import { fixed } from './drawing/numbers.ts';
import { drivingPanels } from './spread-panel.ts';

export const name = 'portrait-temperature';

export function portraitTemperature({ analysis, session, words }: Scene): Draft | null {
  const parts = chargingByTemperature(analysis, session);
  const [first, last] = [parts[0], parts.at(-1)];
  if (!first || !last || first === last) return null;
  const labels = parts.map(({ fromC, toC }) =>
    words.say('mark.degrees', { from: fixed(fromC, 0, words), to: fixed(toC, 0, words) }),
  );
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, drivingPanels(parts, labels, words.say(`note.${name}`), words)),
    altFacts: { fromC: first.fromC, toC: last.toC },
  };
}
