/** Whether something outside the vehicle fed its battery while it stood. */
import type { Analysis, Span } from '../analysis/model.ts';
import { secondsOf } from './spans.ts';

/** So much of it in one stand, and what flows in before and after belongs to it, s. Common practice, no source. */
export const FED_S = 3600;

/** Time on a charger, or in the sun on a panel, within a stand, s. */
export function fedS({ periods }: Analysis, { start, end }: Span): number {
  return secondsOf(periods, ['on-charger'], start, end);
}
