/**
 * Which sign of current is into the battery: told from physics, whatever the manifest says. Current into a battery raises
 * its voltage, current out of it lowers it; a starter motor only ever takes.
 */

import { perTwelveVolt, type SystemVoltage } from '../../battery/chemistry.ts';
import { FED_ANY_V } from '../../battery/fed-voltage.ts';
import type { RawCrank } from '../cranks/raw-crank.ts';
import type { Direction } from '../model.ts';
import { joined, type Tiles } from '../tiles/tiles.ts';
import { createTally, type Sign } from './direction-signs.ts';
import { findTurn } from './direction-turn.ts';
import { isSupplyLost } from './supply.ts';

/** Steps from tile to tile that are large enough to tell: A and V for a 12 V system. */
const STEP_A = 2;
const STEP_V = 0.03;

export function findDirection(tiles: Tiles, cranks: readonly RawCrank[], systemV: SystemVoltage): Direction {
  const tally = createTally();
  eachSign(tiles, cranks, systemV, (_, what, agrees) => tally.add(what, agrees));
  const { agree, against, evidence } = tally.weigh();
  const flipped = against >= 1 && against > 3 * agree;
  const turned = flipped || against === 0 ? null : findTurn(tiles, signsOf(tiles, cranks, systemV));
  return { flipped, turned, agree, against, evidence };
}

/** In order of time. */
function signsOf(tiles: Tiles, cranks: readonly RawCrank[], systemV: SystemVoltage): Sign[] {
  const signs: Sign[] = [];
  eachSign(tiles, cranks, systemV, (t, what, agrees) => signs.push({ t, what, agrees }));
  return signs.sort((a, b) => a.t - b.t);
}

type Take = (t: number, what: Sign['what'], agrees: boolean) => void;

function eachSign(tiles: Tiles, cranks: readonly RawCrank[], systemV: SystemVoltage, take: Take): void {
  const scale = perTwelveVolt(systemV);
  // When a battery is put back on, voltage and draw rise together.
  const isLost = (k: number) => isSupplyLost(tiles.vMin[k], systemV) || isSupplyLost(tiles.vMax[k], systemV);
  // The tile after begins from such a reading without holding it.
  const isNearLoss = (k: number) =>
    [k - 2, k - 1, k, k + 1].some((near) => near >= 0 && near < tiles.n && isLost(near));
  for (const { at, sign } of cranks) if (sign !== 0) take(at, 'crank', sign < 0);
  for (let k = 1; k < tiles.n; k++) {
    const t = tiles.t0[k];
    const di = tiles.i[k] - tiles.i[k - 1];
    const dv = tiles.v[k] - tiles.v[k - 1];
    if (joined(tiles, k) && Math.abs(di) >= STEP_A && Math.abs(dv) >= STEP_V * scale && !isNearLoss(k))
      take(t, 'step', di > 0 === dv > 0);
    if (tiles.v[k] >= FED_ANY_V * scale && Math.abs(tiles.i[k]) >= 1) take(t, 'driving', tiles.i[k] > 0);
  }
}
