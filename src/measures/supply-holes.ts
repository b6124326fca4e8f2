/** Holes of a log in which the supply may have failed: no row, or rows without a voltage. */
import type { Analysis, Period } from '../analysis/model.ts';
import { tileAt } from '../analysis/tiles/tiles.ts';
import { perTwelveVolt } from '../battery/chemistry.ts';
import type { Session } from '../manifest/session.ts';
import { measure } from './measure.ts';

/** Below this a logger that feeds on the battery may stop, V for 12 V. Common practice, no source. */
const COLLAPSE_V = 8;
/** A hole within this of a collapse, or of a crank, began with it, s. */
const JUST_BEFORE_S = 5;

export interface SupplyHoles {
  readonly all: readonly Period[];
  /** Those that began with a collapse of the voltage. */
  readonly collapsed: readonly Period[];
}

export const supplyHoles = measure((analysis, session): SupplyHoles => {
  const all = analysis.periods.filter((period) => period.kind === 'no-data' && !hasVoltage(analysis, period));
  return { all, collapsed: all.filter((hole) => beganWithCollapse(analysis, session, hole)) };
});

/** Where only the current is missing the supply was there. */
function hasVoltage({ tiles }: Analysis, { start, end }: Period): boolean {
  const k = tileAt(tiles, start);
  return k < tiles.n && tiles.t0[k] < end && !Number.isNaN(tiles.v[k]);
}

function beganWithCollapse({ tiles, cranks }: Analysis, session: Session, hole: Period): boolean {
  if (cranks.some((crank) => Math.abs(crank.at + crank.seconds - hole.start) < JUST_BEFORE_S)) return true;
  const leastV = COLLAPSE_V * perTwelveVolt(session.vehicle.systemV);
  for (let k = tileAt(tiles, hole.start - JUST_BEFORE_S); k < tiles.n && tiles.t0[k] < hole.start; k++)
    if (tiles.vMin[k] < leastV) return true;
  return false;
}
