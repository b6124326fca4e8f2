/** How hot the battery got, and whether something charged it meanwhile. */
import type { Analysis } from '../analysis/model.ts';
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { measure } from './measure.ts';
import { total } from './spans.ts';
import { type Sustained, sustained } from './sustained.ts';

/** Current into the battery that counts as charging, A: a converter may charge a parked vehicle. */
const CHARGING_A = 0.5;

export interface Heat {
  /** Highest temperature that lasted while it was charged, and at any time, °C; null where none was read for as long. */
  readonly charging: Sustained | null;
  readonly anytime: Sustained | null;
}

export const heat = measure((analysis): Heat => {
  const { tiles } = analysis;
  const all = Array.from({ length: tiles.n }, (_, k) => k);
  return {
    charging: sustained(tiles, tiles.temp, chargedTiles(analysis), 'highest'),
    anytime: sustained(tiles, tiles.temp, all, 'highest'),
  };
});

/** Time that it was charged above a voltage, V, while at least as hot as `hotC`, °C; s. */
export function overchargedS(analysis: Analysis, hotC: number, aboveV: number): number {
  const { tiles } = analysis;
  const over = chargedTiles(analysis).filter((k) => tiles.temp[k] >= hotC && tiles.v[k] > aboveV);
  return total(over, (k) => tiles.t1[k] - tiles.t0[k]);
}

function chargedTiles(analysis: Analysis): number[] {
  const parkedCharge = tilesIn(analysis, ['awake']).filter((k) => analysis.tiles.i[k] >= CHARGING_A);
  return [...tilesIn(analysis, ['driving', 'on-charger']), ...parkedCharge];
}
