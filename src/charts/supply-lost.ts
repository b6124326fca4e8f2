/** Voltage around the times when the battery was off or the logger wrote nothing: all of the log where they lie apart. */
import { type Draft, findingOf, type Subject } from './chart.ts';
import { voltageSpans } from './drawing/voltage-spans.ts';

export const name = 'supply-lost';
/** Seen before and after: as much as they last, and at least this, s. */
const AROUND_S = 600;

export function supplyLost(subject: Subject): Draft | null {
  const { analysis, findings, words } = subject;
  const finding = findingOf(findings, name);
  const of = (kind: string) => analysis.periods.filter((period) => period.kind === kind);
  const [off, holes] = [of('disconnected'), of('no-data')];
  const spans = [...off, ...holes].toSorted((a, b) => a.start - b.start);
  const [first, last] = [spans[0], spans.at(-1)];
  if (!first || !last || !finding || finding.status === 'clear') return null;
  const around = Math.max(AROUND_S, last.end - first.start);
  return voltageSpans(subject, {
    name,
    title: words.say(`title.${name}`),
    note: words.say('note.supply-lost'),
    from: Math.max(analysis.start, first.start - around),
    to: Math.min(analysis.end, last.end + around),
    spans: off,
    quiet: holes,
    altFacts: { disconnections: off.length, holes: holes.length },
  });
}
