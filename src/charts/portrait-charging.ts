/** Voltage and current while driving against the time since the drive began: how it charges, and how it tapers. */
import { type ChargingPart, charging } from '../measures/portrait/charging.ts';
import type { Spread } from '../measures/portrait/distribution.ts';
import { type Draft, type Scene, topLevel } from './chart.ts';
import { spreadPanel } from './spread-panel.ts';

export const name = 'portrait-charging';

export function portraitCharging(scene: Scene): Draft | null {
  const { analysis, session, words } = scene;
  const { parts } = charging(analysis, session);
  if (parts.length < 2) return null;
  const labels = parts.map(({ fromS, toS }) => {
    const minutes = toS === null ? `> ${fromS / 60}` : `${fromS / 60}–${toS / 60}`;
    return words.say('mark.minutes_of_drives', { minutes });
  });
  const panelOf = (heading: string, note: string, of: (part: ChargingPart) => Spread | null) =>
    spreadPanel({ heading, note, labels, spreads: parts.map(of), words });
  const volts = panelOf(words.say('axis.voltage'), words.say('note.charging'), (part) => part.volts);
  const amps = parts.every((part) => part.amps !== null)
    ? [panelOf(words.say('axis.into_battery', { unit: 'A' }), '', (part) => part.amps)]
    : [];
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, { vconcat: [volts, ...amps] }),
    altFacts: { drives: analysis.drives.length },
  };
}
