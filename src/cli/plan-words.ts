/** What `standstill plan` says of its options: the call's own words. */
import type { PlanAnswer, PlanAsked, PlanNote, PlanReason } from '../measures/plan.ts';

const OPTIONS: Readonly<Record<keyof PlanAsked, string>> = {
  stepS: '--step',
  rowBytes: '--row-bytes (or --columns, --like)',
  columns: '--columns',
  cardBytes: '--card',
  fileS: '--new-file-every',
  eventEveryS: '--event-every',
  times: '--times',
  confidence: '--confidence',
  drawA: '--draw',
  capacityAh: '--capacity',
  charge: '--charge',
  chemistry: '--chemistry',
  temperatureC: '--temperature',
  accuracy: '--accuracy',
  noiseA: '--noise',
  resolutionA: '--resolution',
  uncertaintyA: '--uncertainty',
  limitA: '--limit',
};

/** The answer with its reasons and assumptions in words. */
export interface SaidAnswer extends Omit<PlanAnswer, 'reasons' | 'taken' | 'limit'> {
  readonly limit: (NonNullable<PlanAnswer['limit']> & { readonly source: string }) | null;
  readonly reasons: Readonly<Record<string, string>>;
  readonly taken: readonly string[];
}

export function inWords(answer: PlanAnswer, asked: PlanAsked): SaidAnswer {
  const { limit, reasons, taken } = answer;
  return {
    ...answer,
    limit: limit && { ...limit, source: limit.source ?? '--limit' },
    reasons: Object.fromEntries(Object.entries(reasons).map(([key, reason]) => [key, reasonText(reason)])),
    taken: taken.map((note) => noteText(note, asked)),
  };
}

function reasonText(reason: PlanReason): string {
  if (reason.kind === 'missing') return `missing: ${reason.what.map((key) => OPTIONS[key]).join(', ')}`;
  if (reason.kind === 'no-stand') return 'stand_days is not known';
  if (reason.kind === 'no-length') return 'no length of log was asked for';
  return `the sensor’s accuracy and resolution alone leave ±${(reason.leastA * 1000).toPrecision(2)} mA, however long the log`;
}

function noteText(note: PlanNote, { columns = 0 }: PlanAsked): string {
  switch (note.key) {
    case 'row-bytes':
      return `A row of ${note.bytes} bytes: a time of 24 characters and ${columns} values of 7. A sample log tells it better (--like).`;
    case 'card':
      return 'The card is empty. 4 MiB before the first cluster, 8 bytes of tables for each cluster of 32 KiB, and whole clusters for each file are taken off.';
    case 'largest-file':
      return `On FAT32 a file ends at 4 GiB: the logger must begin a new one within ${note.hours} h, or the log ends there.`;
    case 'by-chance':
      return 'Events come by chance, each on its own (Poisson). One that keeps a clock needs no more than its interval for each time.';
    case 'any-chemistry':
      return 'Self-discharge from that of a new sealed battery to that of an old flooded one: no --chemistry was given.';
    case 'any-temperature':
      return `A battery at ${note.lowC} to ${note.highC} °C: no --temperature was given.`;
    case 'no-start':
      return 'A no-start must be expected once 20 to 30 Ah, or about 40 % of what is there, are gone (a vehicle maker’s bulletin, second-hand).';
    case 'high-draw':
      return 'Such a draw leaves less to give than the 20-hour capacity (Peukert’s relation; its exponents as a battery dealer publishes them).';
  }
}
