/**
 * How Node's engine is set for a program that runs for seconds. What it knows by itself is for servers: it optimises early, and
 * takes ever more memory for what is new, which is then touched for the first time. That is a good part of a short run,
 * most of all on a virtual machine.
 */
import { setFlagsFromString } from 'node:v8';

/** MB of a thread's young objects, three spaces of one; as few as the engine begins with. */
export const YOUNG_MB = 3;

/** Of Node 20: later engines do not know both flags, and would say so on standard error. */
const KNOWS = process.versions.v8.startsWith('11.');

/** To be called in each thread as it starts: the engine takes the second back with every thread. */
export function setEngine(): void {
  if (!KNOWS) return;
  // Loops over samples are reached all the same. The default is some 70,000.
  setFlagsFromString('--interrupt-budget=1000000');
  setFlagsFromString('--semi-space-growth-factor=1');
}
