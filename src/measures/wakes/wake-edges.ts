/**
 * What the rows leave open of a wake's charge. Both its ends lie anywhere between two rows, so its length is known to
 * step/√6 (two rectangular ends, JCGM 100). Wakes by a clock that runs in step with the rows are all cut in the same way:
 * their errors add up and do not average out.
 */
import type { Analysis, Wake } from '../../analysis/model.ts';
import type { Session } from '../../manifest/session.ts';
import { total } from '../spans.ts';
import { wakePatterns } from './patterns.ts';
import { type WakePart, wakeParts } from './wake-parts.ts';

/** A clock that varies by less than this part of a step meets the rows always at the same place; evenly spread it were 0.29. */
const IN_STEP = 0.25;

const square = (x: number) => x * x;

/** Standard uncertainty of the charge of the wakes that are `counted`, Ah. */
export function edgesU(analysis: Analysis, session: Session, counted: (wake: Wake) => boolean): number {
  const parts = wakeParts(analysis, session);
  const isCounted = ({ wake }: WakePart) => counted(analysis.wakes[wake]);
  const stepS = analysis.stepsS.awake ?? 0;
  const openAh = ({ chargeAh, seconds }: Wake) =>
    stepS > 0 ? (Math.abs(chargeAh) * stepS) / Math.sqrt(6) / Math.max(stepS, seconds - stepS) : 0;
  const inStep = wakePatterns(analysis, session)
    .filter(({ jitterS }) => jitterS !== null && jitterS < IN_STEP * stepS)
    .map((pattern) => pattern.parts);
  const taken = new Set(inStep.flat());
  const others = parts.filter((part, k) => isCounted(part) && !taken.has(k));
  const together = inStep.map((places) => total(places.map((k) => parts[k]).filter(isCounted), openAh));
  return Math.sqrt(total(others.map(openAh), square) + total(together, square));
}
