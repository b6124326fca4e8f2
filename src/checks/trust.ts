/**
 * What one finding leaves of another's all-clear. A fault of the recording, or of the battery itself, does not make another
 * finding wrong, but what it was measured with, or taken for granted, no longer holds: such a question stays open.
 */
import type { Check, Doubt, Finding } from './check.ts';
import { CHECKS } from './registry.ts';

/** An answer that is open by its figures shows them too: days to stand, a draw. */
const BY_FIGURES: readonly (string | undefined)[] = ['limit-within-uncertainty', 'sometimes-awake'];

/** Findings that are clear, or open by their figures, and rest on what another one doubts become undecided, and follow from that one. */
export function withDoubts(findings: readonly Finding[], checks: readonly Check[] = CHECKS): Finding[] {
  const known = new Map(checks.map((check) => [check.id, check]));
  const doubts = findings.flatMap((finding) => {
    const doubt = known.get(finding.check)?.doubts?.(finding);
    return doubt ? [{ from: finding.check, doubt }] : [];
  });
  return findings.map((finding) => {
    const check = known.get(finding.check);
    const wasOpen = finding.status === 'undecided' && BY_FIGURES.includes(finding.reason);
    if ((finding.status !== 'clear' && !wasOpen) || check?.about !== 'vehicle') return finding;
    const found = doubts.find(({ from, doubt }) => from !== finding.check && restsOn(check, doubt));
    if (!found) return finding;
    const { variant: _, ...rest } = finding;
    const facts = { ...finding.facts, wasOpen };
    return { ...rest, facts, status: 'undecided', reason: 'in-doubt', follows: found.from };
  });
}

function restsOn(check: Check, doubt: Doubt): boolean {
  if (doubt === 'all') return true;
  if (typeof doubt !== 'string') return doubt.includes(check.id);
  return check.needs.includes('current') && (doubt === 'current' || !check.largeCurrent);
}
