/**
 * Readings that come from no battery in use: it was disconnected, or the logger's own supply was gone. Parts of the system
 * voltage. Below: the starting profiles of ISO 16750-2 end at 3 V for 12 V (level III, second-hand). Above: a regulator
 * that has failed may reach 18 V and more, but no battery lets itself be lifted to 20 V; common practice, no source.
 */
import { perTwelveVolt } from '../../battery/chemistry.ts';
import type { Session } from '../../manifest/session.ts';
import { joined, type Tiles } from '../tiles/tiles.ts';

const LOW = 0.25;
const HIGH = 5 / 3;
/** Readings between two such that stand for less than this are of the same kind, s. */
const BETWEEN_S = 3;

export function isSupplyLost(volts: number, systemV: number): boolean {
  return volts < LOW * systemV || volts > HIGH * systemV;
}

/** Per tile: the supply was lost, nothing is known of voltage and current, or null where all is well. */
export type LostSupply = readonly ('disconnected' | 'no-data' | null)[];

export function findLostSupply(tiles: Tiles, session: Session): LostSupply {
  const { systemV } = session.vehicle;
  const isLost = (k: number) => isSupplyLost(tiles.v[k], systemV);
  // The tiles at both edges hold part of the change: the first has a reading of each kind, the last begins from one.
  const isEdge = (k: number) =>
    (joined(tiles, k) && isLost(k - 1)) ||
    (joined(tiles, k + 1) && isLost(k + 1) && [tiles.vMin[k], tiles.vMax[k]].some((v) => isSupplyLost(v, systemV)));
  const lost = Array.from({ length: tiles.n }, (_, k) => {
    if (Number.isNaN(tiles.v[k]) && Number.isNaN(tiles.i[k])) return 'no-data';
    return isLost(k) || isEdge(k) ? 'disconnected' : null;
  });
  let last = -1;
  for (let k = 0; k < tiles.n; k++) {
    if (k > 0 && !joined(tiles, k)) last = -1;
    if (lost[k] === null) continue;
    if (last >= 0 && tiles.t0[k] - tiles.t1[last] <= BETWEEN_S) lost.fill(lost[k], last + 1, k);
    last = k;
  }
  return session.battery.chemistry === 'lfp' ? withOpenSwitch(tiles, lost, session) : lost;
}

/**
 * Of lithium iron phosphate, for 12 V: nearly empty below the first, fed above the second (its flat curve rests between them);
 * below the third no cell is connected (2 V a cell; trade tables, from memory).
 */
const EMPTY_V = 12.8;
const FED_V = 13.4;
const NO_CELL_V = 8;
/** The step from the one to the other may be spread over so long, s. */
const CHANGES_S = 60;
/** What a sensor may read of no current at all, A, beside what its maker states. Common practice, no source. */
const STILL_A = 0.01;
/** So many times that much is clearly drawn. */
const CLEARLY = 3;

/**
 * A lithium battery's own switch is open although the logger sees a voltage: the sun or a converter holds the wires, and no current
 * flows. A nearly empty battery that were connected would take amperes there, and what drew on it before would draw again.
 */
function withOpenSwitch(tiles: Tiles, lost: LostSupply, session: Session): LostSupply {
  const scale = perTwelveVolt(session.vehicle.systemV);
  const stillA = STILL_A + (session.log.columns.current?.accuracy?.absolute ?? 0);
  let isOpen = false;
  /** When it was last seen nearly empty, and what was drawn then. */
  let emptyT = Number.NEGATIVE_INFINITY;
  let drawnA = 0;
  return lost.map((kind, k) => {
    if (k > 0 && !joined(tiles, k)) [isOpen, emptyT] = [false, Number.NEGATIVE_INFINITY];
    const wasEmpty = tiles.t0[k] - emptyT < CHANGES_S;
    if (kind !== null) {
      isOpen = kind === 'disconnected' && (isOpen || wasEmpty);
      return kind;
    }
    const volts = tiles.v[k];
    const isFed = volts > FED_V * scale;
    isOpen = Math.abs(tiles.i[k]) <= stillA && (isOpen || (isFed && wasEmpty));
    if (!isOpen && volts < EMPTY_V * scale && volts > NO_CELL_V * scale) [emptyT, drawnA] = [tiles.t1[k], -tiles.i[k]];
    const isSure = isFed || volts < NO_CELL_V * scale || drawnA > CLEARLY * stillA;
    return isOpen && isSure ? 'disconnected' : null;
  });
}
