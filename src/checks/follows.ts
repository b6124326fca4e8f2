/**
 * Which findings are likely to follow from another one, so that one cause is not told as four faults. Of a row's causes that
 * are faults, the first that is not itself told under another one is named.
 */
import type { Finding } from './check.ts';

const CAUSES: Readonly<Record<string, readonly string[]>> = {
  'stand-time': ['parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'resting-charge'],
  'charge-balance': ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time'],
  'resting-charge': ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'charge-balance'],
  'deep-discharge': ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'charge-balance'],
  'crank-voltage': ['deep-discharge', 'resting-charge', 'battery-resistance', 'circuit-drop'],
  'battery-heat': ['charging-high'],
};

export function withCauses(findings: readonly Finding[]): Finding[] {
  const told = new Map(
    findings
      .filter(({ status }) => status === 'fault' || status === 'watch')
      .map((finding) => [finding.check, finding]),
  );
  const isFault = (id: string) => told.get(id)?.status === 'fault';
  const under = new Map([...told.values()].map((finding) => [finding.check, loneCause(finding, told)]));
  return findings.map((finding) => {
    const { follows, ...rest } = finding;
    if (finding.status === 'undecided' && isOtherSystem(told)) return { ...rest, follows: 'log-coverage' };
    if (!told.has(finding.check)) return finding;
    const causes = (CAUSES[finding.check] ?? []).filter(isFault);
    const cause = under.get(finding.check) ?? causes.find((id) => !under.get(id)) ?? causes[0];
    return cause ? { ...rest, follows: cause } : rest;
  });
}

/** The one finding under which another is told, whatever else is wrong. */
function loneCause(finding: Finding, told: ReadonlyMap<string, Finding>): string | undefined {
  const isFault = (id: string) => told.get(id)?.status === 'fault';
  if (isOtherSystem(told) && finding.check !== 'log-coverage') return 'log-coverage';
  if (finding.follows) return told.has(finding.follows) ? finding.follows : undefined;
  // A vehicle that never slept draws too much because of that.
  if (finding.check === 'parked-draw' && finding.variant === 'never-asleep')
    return isFault('sleep-time') ? 'sleep-time' : undefined;
  // Two losses at once: the smaller is told below the larger, which is to be found first; one circuit often does both.
  const { wakesA, sleepA } = told.get('wake-ups')?.facts ?? {};
  if (typeof wakesA !== 'number' || typeof sleepA !== 'number') return undefined;
  const [larger, smaller] = wakesA > sleepA ? ['wake-ups', 'parked-draw'] : ['parked-draw', 'wake-ups'];
  return finding.check === smaller && isFault(larger) ? larger : undefined;
}

/** Held against another system's limits, nothing else means what it says, and hardly anything has an answer. */
function isOtherSystem(told: ReadonlyMap<string, Finding>): boolean {
  return told.get('log-coverage')?.variant === 'other-system';
}
