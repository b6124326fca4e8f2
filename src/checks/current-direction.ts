/**
 * Is the sign of current what the manifest says? The analysis gathers independent signs (starting must draw, driving must
 * charge) and turns everything round where they speak against the manifest; here the count is told and weighed.
 */

import { NO_SOURCE } from '../measures/limit.ts';
import { seenStarts } from '../measures/seen-starts.ts';
import { total } from '../measures/spans.ts';
import type { Check } from './check.ts';

/** Signs that must speak one way, and how many times those that speak the other, for a verdict. */
const MOST_AGAINST = {
  key: 'signsAgainst',
  value: 0.25,
  unit: '1',
  source: NO_SOURCE,
  applies: 'share of the signs that may disagree',
} as const;

/** One start without current may be a jolt at the clamp. */
const LEAST_UNSEEN = 2;

type Facts = {
  readonly signs: number;
  readonly agree: number;
  readonly against: number;
  readonly cranks: number;
  readonly drives: number;
  readonly steps: number;
  readonly manifestCharging: boolean;
  /** Only of the variant `doubtful`: starts that the voltage shows and the current does not. */
  readonly unseenStarts?: number;
  readonly fromT?: number;
  readonly toT?: number;
};

export const check: Check<Facts> = {
  id: 'current-direction',
  about: 'log',
  side: null,
  needs: ['current'],
  limits: [MOST_AGAINST],
  reasons: ['no-evidence', 'evidence-mixed'],
  cautions: ['general'],
  answer(analysis, session) {
    const { flipped, turned, agree, against, evidence } = analysis.direction;
    const signs = agree + against;
    const seen = (what: (typeof evidence)[number]['what']) =>
      total(
        evidence.filter((one) => one.what === what),
        (one) => one.agree + one.against,
      );
    const facts = {
      signs,
      agree,
      against,
      cranks: seen('crank'),
      drives: seen('driving'),
      steps: seen('step'),
      manifestCharging: session.log.columns.current?.positive === 'charging',
    };
    if (signs === 0) return { status: 'undecided', facts, reason: 'no-evidence' };
    const evidenceShown = [{ chart: 'current-direction', from: analysis.start, to: analysis.end }];
    // Of a sensor on the wrong cable the signs of drives tell nothing.
    const unseenStarts = seenStarts(analysis, session).filter(({ matched }) => !matched).length;
    if (flipped && facts.cranks === 0 && unseenStarts >= LEAST_UNSEEN)
      return { status: 'fault', variant: 'doubtful', facts: { ...facts, unseenStarts }, evidence: evidenceShown };
    if (flipped) return { status: 'fault', facts, evidence: evidenceShown };
    if (turned)
      return {
        status: 'fault',
        variant: 'turned',
        facts: { ...facts, fromT: turned.start, toT: turned.end },
        evidence: evidenceShown,
      };
    const mixed = against > MOST_AGAINST.value * signs;
    return mixed
      ? { status: 'undecided', facts, evidence: evidenceShown, reason: 'evidence-mixed' }
      : { status: 'clear', facts, evidence: evidenceShown };
  },
};
