/** Voltage over the log, with the stretches on a charger shaded. */
import { type Draft, findingOf, type Subject } from './chart.ts';
import { voltageSpans } from './drawing/voltage-spans.ts';

export const name = 'charger-seen';

export function chargerSeen(subject: Subject): Draft | null {
  const { analysis, findings, words } = subject;
  const finding = findingOf(findings, name);
  const spans = analysis.periods.filter(({ kind }) => kind === 'on-charger');
  if (spans.length === 0 || !finding || finding.status === 'clear') return null;
  return voltageSpans(subject, {
    name,
    title: words.say(`title.${name}`),
    note: words.say('note.charger-seen'),
    from: analysis.start,
    to: analysis.end,
    spans,
    quiet: analysis.periods.filter(({ kind }) => kind === 'driving'),
    altFacts: { times: spans.length, chargerS: spans.reduce((sum, { start, end }) => sum + end - start, 0) },
  });
}
