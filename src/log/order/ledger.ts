/** The account of everything wrong with the rows: bounded, with like faults next to each other as one entry. */
import type { FaultKind, LogFault } from '../block.ts';

/** Entries of one kind; what comes after is counted in the last of them. */
const MOST_OF_A_KIND = 40;
const MOST_GAPS = 200;
/** Faults of one kind this near to each other are one entry. */
const NEAR_S = 60;
const NEAR_LINES = 10;

export interface Fault {
  readonly kind: FaultKind;
  readonly at: number | null;
  /** 1 where not given. */
  readonly count?: number;
  /** s; 0 where not given. */
  readonly seconds?: number;
  readonly file?: string;
  readonly line?: number;
  readonly found?: string;
  /** Faults with different keys are never one entry: the column, say. */
  readonly key?: string;
  /** An occurrence of its own, however near to the last. */
  readonly alone?: boolean;
}

export interface Ledger {
  tell(fault: Fault): void;
  /** In order of time; faults without a time come where their line puts them, after those before. */
  faults(): LogFault[];
}

interface Entry {
  readonly order: number;
  readonly fault: Fault;
  count: number;
  seconds: number;
  lastAt: number | null;
  lastLine: number;
}

export function createLedger(): Ledger {
  const entries: Entry[] = [];
  const lastOfKey = new Map<string, Entry>();
  const ofKind = new Map<FaultKind, number>();

  function tell(fault: Fault): void {
    const key = `${fault.kind}\n${fault.file ?? ''}\n${fault.key ?? ''}`;
    const last = lastOfKey.get(key);
    const used = ofKind.get(fault.kind) ?? 0;
    const full = used >= (fault.kind === 'gap' ? MOST_GAPS : MOST_OF_A_KIND);
    const into = last !== undefined && isNear(last, fault) ? last : full ? (last ?? lastEntry(fault.kind)) : undefined;
    if (into !== undefined) {
      into.count += fault.count ?? 1;
      into.seconds = mergedSeconds(into, fault);
      into.lastAt = fault.at ?? into.lastAt;
      into.lastLine = fault.line ?? into.lastLine;
      return;
    }
    const { count = 1, seconds = 0, at, line = 0 } = fault;
    const entry = { order: entries.length, fault, count, seconds, lastAt: at, lastLine: line };
    entries.push(entry);
    lastOfKey.set(key, entry);
    ofKind.set(fault.kind, used + 1);
  }

  function lastEntry(kind: FaultKind): Entry | undefined {
    return entries.findLast((entry) => entry.fault.kind === kind);
  }

  function faults(): LogFault[] {
    let time = Number.NEGATIVE_INFINITY;
    const timed = entries.map((entry) => {
      time = entry.fault.at ?? time;
      return { entry, time };
    });
    timed.sort((a, b) => (a.time === b.time ? a.entry.order - b.entry.order : a.time - b.time));
    return timed.map(({ entry: { fault, count, seconds } }) => {
      const { kind, at, file, line, found } = fault;
      // To the µs: differences of times since 1970 have no more in them.
      return { kind, at, count, seconds: Math.round(seconds * 1e6) / 1e6, file, line, found };
    });
  }

  return { tell, faults };
}

function isNear(last: Entry, fault: Fault): boolean {
  if (fault.alone || last.fault.alone) return false;
  const nearTime = last.lastAt !== null && fault.at !== null && Math.abs(fault.at - last.lastAt) <= NEAR_S;
  const nearLine = fault.line !== undefined && fault.line - last.lastLine <= NEAR_LINES && fault.line >= last.lastLine;
  return nearTime || nearLine;
}

/** Point faults (a reading out of range) span from the first to the last; spans of time add up. */
function mergedSeconds(entry: Entry, fault: Fault): number {
  if (fault.seconds !== undefined && fault.seconds > 0) return entry.seconds + fault.seconds;
  return entry.seconds;
}
