/** Which findings are likely to follow from another one, so that one cause is not told as four faults. */
import type { Check, Finding } from './check.ts';
import { CHECKS } from './registry.ts';

type Raised = ReadonlyMap<string, Finding>;

/** Of a check's causes that are faults, the first that does not follow from another one by what was measured is named. */
export function withCauses(findings: readonly Finding[], checks: readonly Check[] = CHECKS): Finding[] {
  const raised: Raised = new Map(
    findings
      .filter(({ status }) => status === 'fault' || status === 'watch')
      .map((finding) => [finding.check, finding]),
  );
  const known = new Map(checks.map((check) => [check.id, check]));
  const voiding = [...raised.values()].find((finding) => known.get(finding.check)?.voids?.(finding))?.check;
  const under = new Map(
    [...raised.values()].map((finding) => {
      const isVoid = voiding !== undefined && finding.check !== voiding;
      return [finding.check, isVoid ? voiding : measuredCause(finding, known.get(finding.check), raised)];
    }),
  );
  return findings.map((finding) => {
    const { follows, ...rest } = finding;
    if (finding.status === 'undecided' && voiding !== undefined) return { ...rest, follows: voiding };
    // A doubt keeps what it comes from.
    if (!raised.has(finding.check)) return finding;
    const stated = known.get(finding.check)?.causes ?? [];
    const causes = (typeof stated === 'function' ? stated(finding) : stated).filter((id) => isFault(raised, id));
    const isLesser = (id: string) => causes.includes(known.get(id)?.after?.(raised) ?? '');
    const cause = under.get(finding.check) ?? causes.find((id) => !under.get(id) && !isLesser(id)) ?? causes[0];
    return cause ? { ...rest, follows: cause } : rest;
  });
}

const isFault = (raised: Raised, id: string) => raised.get(id)?.status === 'fault';

/** The one finding that another follows from by what was measured: as its answer says, or the check by both answers. */
function measuredCause(finding: Finding, check: Check | undefined, raised: Raised): string | undefined {
  if (finding.follows) return raised.has(finding.follows) ? finding.follows : undefined;
  const cause = check?.cause?.(finding, raised);
  // Something to watch may follow from another such thing; a fault has a fault behind it.
  const isCause = cause !== undefined && (isFault(raised, cause) || (finding.status === 'watch' && raised.has(cause)));
  return isCause ? cause : undefined;
}
