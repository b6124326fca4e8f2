/**
 * Which findings are likely to follow from another one, so that one cause is not told as four faults. The first of a
 * row's causes that is itself a fault is named.
 */
import type { Finding } from './check.ts';

const CAUSES: Readonly<Record<string, readonly string[]>> = {
  'stand-time': ['parked-draw', 'sleep-time', 'resting-charge'],
  'charge-balance': ['charging-low', 'parked-draw', 'sleep-time'],
  'resting-charge': ['charging-low', 'parked-draw', 'sleep-time', 'charge-balance'],
  'crank-voltage': ['resting-charge'],
};

export function withCauses(findings: readonly Finding[]): Finding[] {
  const faults = new Set(findings.filter((finding) => finding.status === 'fault').map((finding) => finding.check));
  return findings.map((finding) => {
    if (finding.follows || (finding.status !== 'fault' && finding.status !== 'watch')) return finding;
    // A vehicle that never slept draws too much because of that.
    const causes =
      finding.variant === 'never-asleep' && finding.check === 'parked-draw' ? ['sleep-time'] : CAUSES[finding.check];
    const cause = causes?.find((id) => faults.has(id));
    return cause ? { ...finding, follows: cause } : finding;
  });
}
