/**
 * What one finding leaves of another's all-clear. A fault of the recording, or of the battery itself, does not make another
 * finding wrong, but what it was measured with, or taken for granted, no longer holds: such a question stays open.
 */
import type { Check, Doubt, Finding } from './check.ts';
import { CHECKS } from './registry.ts';

/** Findings that are clear and rest on what another one doubts become undecided, and follow from that one. */
export function withDoubts(findings: readonly Finding[], checks: readonly Check[] = CHECKS): Finding[] {
  const known = new Map(checks.map((check) => [check.id, check]));
  const doubts = findings.flatMap((finding) => {
    const doubt = known.get(finding.check)?.doubts?.(finding);
    return doubt ? [{ from: finding.check, doubt }] : [];
  });
  return findings.map((finding) => {
    const check = known.get(finding.check);
    if (finding.status !== 'clear' || check?.about !== 'vehicle') return finding;
    const found = doubts.find(({ from, doubt }) => from !== finding.check && restsOn(check, doubt));
    if (!found) return finding;
    const { variant: _, ...rest } = finding;
    return { ...rest, status: 'undecided', reason: 'in-doubt', follows: found.from };
  });
}

function restsOn(check: Check, doubt: Doubt): boolean {
  if (doubt === 'all') return true;
  if (typeof doubt !== 'string') return doubt.includes(check.id);
  return check.needs.includes('current') && (doubt === 'current' || !check.largeCurrent);
}
