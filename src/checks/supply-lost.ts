/**
 * Was the battery disconnected or the logger without power? A voltage near nought between two live stretches is a battery
 * that was taken off, or a clamp that let go; at the log's ends it is the logger being fitted or removed. A hole that
 * begins with a collapsing voltage is a logger that went down with its supply. For other holes the cause stays open.
 */
import type { Period } from '../analysis/model.ts';
import { mostBy, total } from '../measures/spans.ts';
import { supplyHoles } from '../measures/supply-holes.ts';
import { batteriesCompared, cutOff } from '../measures/supply-stories.ts';
import type { Check } from './check.ts';

/** More losses than this are a contact that comes and goes, not somebody at work. Common practice, no source. */
const MOST_LOSSES = 2;

/** Holes shorter than this, together, are not asked about, s. */
const SHORT_HOLES_S = 600;

type Facts = {
  readonly losses: number;
  readonly disconnections: number;
  readonly resets: number;
  readonly offS: number;
  readonly edgeS: number;
  readonly holes: number;
  readonly holeS: number;
  readonly longestT: number | null;
  readonly longestS: number | null;
};

/** The battery was changed meanwhile: what the old one showed, and the new one; nulls where it was not measured. */
type Replaced = {
  readonly changedT: number;
  readonly beforeCharge: number | null;
  readonly afterCharge: number | null;
  readonly beforeOhm: number | null;
  readonly afterOhm: number | null;
};

/** A lithium battery switched itself off. */
type SwitchedOff = {
  readonly lastV: number;
  readonly cutT: number;
  readonly cutS: number;
  readonly cuts: number;
  readonly severalCuts: boolean;
  readonly cutOffS: number;
  readonly backT: number | null;
  readonly backByCharge: boolean;
  readonly dark: boolean;
  readonly heldV: number | null;
};

export const check: Check<Facts | (Facts & Replaced) | (Facts & SwitchedOff)> = {
  id: 'supply-lost',
  about: 'log',
  // A contact that comes and goes lets nobody promise a start, and what flowed meanwhile was not seen.
  doubts: ({ status }) => (status === 'fault' ? ['stand-time', 'charge-balance'] : null),
  unfit: ({ status }) => status === 'fault',
  tellsCustomer: ({ variant }) => variant === 'replaced' || variant === 'cut-off',
  side: null,
  needs: [],
  limits: [],
  reasons: ['holes-unexplained'],
  cautions: ['general', 'short-circuit', 'airbag'],
  answer(analysis, session) {
    const off = analysis.periods.filter((period) => period.kind === 'disconnected');
    const inner = off.filter((period) => period.start > analysis.start && period.end < analysis.end);
    const { all: holes, collapsed: resets } = supplyHoles(analysis, session);
    const losses = [...inner, ...resets].toSorted((a, b) => a.start - b.start);
    const longest = mostBy(losses.length > 0 ? losses : holes, lengthS);
    const holeS = total(holes, lengthS) - total(resets, lengthS);
    const base = {
      facts: {
        losses: losses.length,
        disconnections: inner.length,
        resets: resets.length,
        offS: total(inner, lengthS),
        edgeS: total(off, lengthS) - total(inner, lengthS),
        holes: holes.length - resets.length,
        holeS,
        longestT: longest?.start ?? null,
        longestS: longest ? lengthS(longest) : null,
      },
      evidence: longest ? [{ chart: 'supply-lost', from: longest.start, to: longest.end }] : [],
    } as const;
    const cut = cutOff(analysis, session);
    if (cut) {
      const evidence = [{ chart: 'supply-lost', from: cut.cutT, to: cut.cutT + cut.cutS }];
      return {
        ...base,
        facts: { ...base.facts, ...cut, severalCuts: cut.cuts > 1 },
        evidence,
        status: 'watch',
        variant: 'cut-off',
      };
    }
    if (losses.length > MOST_LOSSES) return { ...base, status: 'fault' };
    const replaced = batteriesCompared(analysis, session);
    if (replaced) return { ...base, facts: { ...base.facts, ...replaced }, status: 'watch', variant: 'replaced' };
    if (losses.length > 0) return { ...base, status: 'watch' };
    if (holeS > SHORT_HOLES_S) return { ...base, status: 'undecided', reason: 'holes-unexplained' };
    return { ...base, status: 'clear' };
  },
};

const lengthS = (period: Period) => period.end - period.start;
