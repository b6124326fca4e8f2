/** Voltage and current while driving against the time since the drive began: how it charges, and how it tapers. */
import { charging } from '../measures/portrait/charging.ts';
import { type Draft, type Scene, topLevel } from './chart.ts';
import { drivingPanels } from './spread-panel.ts';

export const name = 'portrait-charging';

export function portraitCharging(scene: Scene): Draft | null {
  const { analysis, session, words } = scene;
  const { parts } = charging(analysis, session);
  if (parts.length < 2) return null;
  const labels = parts.map(({ fromS, toS }) => {
    const minutes = toS === null ? `> ${fromS / 60}` : `${fromS / 60}–${toS / 60}`;
    return words.say('mark.minutes_of_drives', { minutes });
  });
  const title = words.say(`title.${name}`);
  return {
    name,
    check: null,
    title,
    spec: topLevel(title, drivingPanels(parts, labels, words.say('note.charging'), words)),
    altFacts: { drives: analysis.drives.length },
  };
}
