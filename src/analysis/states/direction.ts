/**
 * Which sign of current is into the battery: told from physics, whatever the manifest says. Current into a battery raises
 * its voltage, current out of it lowers it; a starter motor only ever takes.
 */

import { perTwelveVolt, type SystemVoltage } from '../../battery/chemistry.ts';
import { FED_ANY_V } from '../../battery/fed-voltage.ts';
import type { RawCrank } from '../cranks/raw-crank.ts';
import type { Direction } from '../model.ts';
import { joined, type Tiles } from '../tiles/tiles.ts';
import { isSupplyLost } from './supply.ts';

/** Steps from tile to tile that are large enough to tell: A and V for a 12 V system. */
const STEP_A = 2;
const STEP_V = 0.03;

export function findDirection(tiles: Tiles, cranks: readonly RawCrank[], systemV: SystemVoltage): Direction {
  const scale = perTwelveVolt(systemV);
  // When a battery is put back on, voltage and draw rise together.
  const isLost = (k: number) => isSupplyLost(tiles.vMin[k], systemV) || isSupplyLost(tiles.vMax[k], systemV);
  // The tile after begins from such a reading without holding it.
  const isNearLoss = (k: number) =>
    [k - 2, k - 1, k, k + 1].some((near) => near >= 0 && near < tiles.n && isLost(near));
  const crank = { what: 'crank' as const, agree: 0, against: 0 };
  for (const { sign } of cranks) {
    if (sign < 0) crank.agree++;
    else if (sign > 0) crank.against++;
  }
  const step = { what: 'step' as const, agree: 0, against: 0 };
  const driving = { what: 'driving' as const, agree: 0, against: 0 };
  for (let k = 1; k < tiles.n; k++) {
    const di = tiles.i[k] - tiles.i[k - 1];
    const dv = tiles.v[k] - tiles.v[k - 1];
    if (joined(tiles, k) && Math.abs(di) >= STEP_A && Math.abs(dv) >= STEP_V * scale && !isNearLoss(k)) {
      if (di > 0 === dv > 0) step.agree++;
      else step.against++;
    }
    if (tiles.v[k] >= FED_ANY_V * scale && Math.abs(tiles.i[k]) >= 1) {
      if (tiles.i[k] > 0) driving.agree++;
      else driving.against++;
    }
  }
  // Tiles of one drive are not independent of each other: each kind of evidence speaks as one witness, by majority.
  const voices = [crank, majority(step), majority(driving)];
  const agree = voices.reduce((sum, voice) => sum + voice.agree, 0);
  const against = voices.reduce((sum, voice) => sum + voice.against, 0);
  return { flipped: against >= 1 && against > 3 * agree, agree, against, evidence: [crank, step, driving] };
}

function majority(voice: { agree: number; against: number }) {
  const total = voice.agree + voice.against;
  if (total < 5) return { agree: 0, against: 0 };
  if (voice.agree > 0.8 * total) return { agree: 1, against: 0 };
  return { agree: 0, against: voice.against > 0.8 * total ? 1 : 0 };
}
