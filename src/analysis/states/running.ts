/**
 * When something feeds the battery: an engine's generator, a DC–DC converter, or a charger. Told from current and voltage
 * with hysteresis, then sorted by what comes before and after. Figures are common practice, no source, for a 12 V system.
 */
import { median } from '../../battery/statistics.ts';
import type { Session } from '../../manifest/session.ts';
import type { RawCrank } from '../cranks/crank-measure.ts';
import { joined, type Tiles } from '../tiles/tiles.ts';
import { dipBefore } from './crank-dip.ts';
import {
  type FedSpan,
  isRestless,
  quietFloor,
  RESTLESS_A,
  type Restlessness,
  restlessness,
  type Span,
  type SpanKind,
} from './restless.ts';
import { KEY_ON_A, TAKEOVER_S, unchargedDrives } from './uncharged.ts';

/** Fed once it has lasted this long; over once it has been gone this long, s. */
const BEGIN_S = 4;
const END_S = 8;
/** A pause this short does not part two stretches, s. */
const PAUSE_S = 20;
/** An engine that pauses at lights is started again within this time, its consumers still on, s. */
const STOP_S = 90;
/** Without a crank between them, two restless stretches this near belong to one drive, s. */
const LOWERED_S = 7200;
/** Where no more than this flows in for longer than a drive is lowered, and the voltage does not rise (V), nothing does, A. */
const TRICKLE_A = 1;
const RISE_V = 0.05;
/** An empty battery that takes current rises above this at once, V. */
const LEAST_FED_V = 10;
/** How far to look for what came before and after; as far as the second in a slow log, s. */
const NEAR_S = 15;
const NEAR_MOST_S = 1200;
/** No vehicle draws so little seconds, or in a slow log a minute or two, after it was driven, A. */
const QUIET_A = 0.3;

export function findFedSpans(tiles: Tiles, cranks: readonly RawCrank[], session: Session): FedSpan[] {
  const floor = quietFloor(tiles);
  const asRead = findFed(tiles, session, floor, 0);
  const zeroA = zeroOf(tiles, session, floor, asRead);
  const fed = joinPauses(tiles, cranks, zeroA > 0 ? findFed(tiles, session, floor, zeroA) : asRead);
  const spans = joinLowered(
    tiles,
    cranks,
    floor,
    fed.map((span) => ({ ...span, kind: kindOf(tiles, span, cranks, session, floor) })),
  );
  const lasting = spans.filter(
    (span) => span.kind === 'driving' || tiles.t1[span.last] - tiles.t0[span.first] > PAUSE_S,
  );
  const uncharged = unchargedDrives(tiles, cranks, lasting, floor);
  // A moment of charging in such a drive is not a charger's.
  const parted = spans.filter(
    (span) => !uncharged.some((drive) => span.first >= drive.first && span.last <= drive.last),
  );
  return [...parted, ...uncharged].sort((a, b) => a.first - b.first);
}

/** +1 fed, −1 not fed, 0 could be either: keeps what it was. */
function feeding(tiles: Tiles, session: Session, floor: Restlessness, zeroA: number): (k: number) => -1 | 0 | 1 {
  const scale = session.vehicle.systemV / 12;
  const lfp = session.battery.chemistry === 'lfp';
  const high = (lfp ? 13.8 : 13.4) * scale;
  const low = (lfp ? 13.2 : 12.9) * scale;
  const offsetA = session.log.columns.current?.accuracy?.absolute ?? 0;
  const intoA = Math.max(0.3, 2 * offsetA);
  // A battery just off charge keeps a high voltage for a while; that nothing feeds it shows in a current at rest.
  const quietA = Math.max(0.05, 2.5 * floor.amps);
  return (k) => {
    const v = tiles.v[k];
    const i = tiles.i[k] - zeroA;
    // Where nothing is known, nothing is claimed.
    if (Number.isNaN(i)) return v >= high - 0.1 * scale ? 1 : v >= high - 0.2 * scale ? 0 : -1;
    if ((i >= intoA && v >= LEAST_FED_V * scale) || (v >= high && i > -intoA)) return 1;
    if ((i <= -0.15 && v < high) || (i < intoA && v < low)) return -1;
    if (i < 0.05 && v < high && tiles.iRough[k] < quietA) return -1;
    return 0;
  };
}

function findFed(tiles: Tiles, session: Session, floor: Restlessness, zeroA: number): Span[] {
  const sign = feeding(tiles, session, floor, zeroA);
  const spans: Span[] = [];
  let open: number | null = null;
  /** First tile of a run that speaks against the present state, and the time it has spoken for. */
  let since = -1;
  let spokenS = 0;
  for (let k = 0; k < tiles.n; k++) {
    if (k > 0 && tiles.t0[k] - tiles.t1[k - 1] > 60) {
      if (open !== null) spans.push({ first: open, last: (spokenS > 0 ? since : k) - 1 });
      open = null;
      since = -1;
      spokenS = 0;
    }
    const now = sign(k);
    const against = open === null ? 1 : -1;
    if (now === against) {
      if (since < 0) since = k;
      spokenS += tiles.t1[k] - tiles.t0[k];
      if (spokenS >= (open === null ? BEGIN_S : END_S)) {
        if (open === null) open = since;
        else {
          spans.push({ first: open, last: since - 1 });
          open = null;
        }
        since = -1;
        spokenS = 0;
      }
    } else if (now === -against) {
      since = -1;
      spokenS = 0;
    }
  }
  if (open !== null) spans.push({ first: open, last: tiles.n - 1 });
  return spans.filter((span) => span.last >= span.first);
}

/** Joins stretches over a short pause, and over a stop at lights: a crank with the consumers still on before it. */
function joinPauses(tiles: Tiles, cranks: readonly RawCrank[], spans: readonly Span[]): Span[] {
  const out: Span[] = [];
  for (const span of spans) {
    const before = out[out.length - 1];
    if (before) {
      const pauseS = tiles.t0[span.first] - tiles.t1[before.last];
      const crank = cranks.find((c) => c.at >= tiles.t1[before.last] - 1 && c.at <= tiles.t0[span.first] + 1);
      const stays = () => consumersStayOn(tiles, before.last + 1, crank?.at ?? tiles.t0[span.first]);
      if (pauseS <= PAUSE_S || (pauseS <= STOP_S && stays())) {
        before.last = span.last;
        continue;
      }
    }
    out.push({ ...span });
  }
  return out;
}

/** What the sensor reads of nothing, A: a small and quiet current that flowed in for longer than a drive is lowered and filled nothing. */
function zeroOf(tiles: Tiles, session: Session, floor: Restlessness, spans: readonly Span[]): number {
  const scale = session.vehicle.systemV / 12;
  const restV = (session.battery.chemistry === 'lfp' ? 13.35 : 12.9) * scale;
  const usual = (column: Float64Array, { first, last }: Span) => median(column.subarray(first, last + 1));
  const still = spans.filter(
    (span) =>
      tiles.t1[span.last] - tiles.t0[span.first] > LOWERED_S &&
      usual(tiles.i, span) < TRICKLE_A &&
      usual(tiles.v, span) < restV &&
      tiles.v[span.last] < tiles.v[span.first] + RISE_V * scale &&
      !(restlessness(tiles, span).amps > Math.max(0.05, 2.5 * floor.amps)),
  );
  return still.length > 0 ? median(still.map((span) => usual(tiles.i, span))) : 0;
}

function consumersStayOn(tiles: Tiles, first: number, until: number): boolean {
  const draws: number[] = [];
  // The tiles at both ends may hold part of the change.
  for (let k = first + 1; k + 1 < tiles.n && tiles.t1[k + 1] < until; k++) draws.push(-tiles.i[k]);
  return draws.length >= 2 && Math.min(...draws) >= Math.max(4, 0.5 * median(draws));
}

function kindOf(
  tiles: Tiles,
  span: Span,
  cranks: readonly RawCrank[],
  session: Session,
  floor: Restlessness,
): SpanKind {
  const start = tiles.t0[span.first];
  if (crankNear(cranks, start)) return 'driving';
  const { powertrain, systemV } = session.vehicle;
  // A starter whose current does not pass the sensor still pulls the voltage down.
  if (powertrain !== 'electric' && dipBefore(tiles, start, systemV) !== null) return 'driving';
  const combustion = powertrain === 'combustion';
  // Voltage alone does not tell a parked converter from a running one.
  if (!combustion && Number.isNaN(restlessness(tiles, span).amps)) return 'driving';
  const before = drawNear(tiles, span.first - 1, -1);
  const after = drawNear(tiles, span.last + 1, 1);
  const opened = (before ?? 0) >= KEY_ON_A || (after ?? 0) >= KEY_ON_A;
  const found = restlessness(tiles, span);
  const rough = isRestless(found, floor);
  if (!combustion) return opened || (rough && before === null) || (rough && after === null) ? 'driving' : 'top-up';
  const isBeginSeen = before !== null || (Number.isNaN(found.amps) && joined(tiles, span.first));
  // A voltage that stands still shows no crank.
  const isVoltageAlive = found.volts > 0;
  if (cranksShow(cranks) && isBeginSeen && isVoltageAlive) return 'on-charger';
  // A charger's current may be a little restless, but nobody opened the vehicle before, or left it after.
  const around = [before, after].filter((draw) => draw !== null);
  if (around.length > 0 && around.every((draw) => draw < QUIET_A) && !(found.amps > RESTLESS_A)) return 'on-charger';
  return rough || (opened && (before ?? KEY_ON_A) >= KEY_ON_A && (after ?? KEY_ON_A) >= KEY_ON_A)
    ? 'driving'
    : 'on-charger';
}

function crankNear(cranks: readonly RawCrank[], t: number): boolean {
  return cranks.some((crank) => crank.at + crank.seconds >= t - TAKEOVER_S && crank.at <= t + 5);
}

/** Usual draw in the 15 s (two tiles in a slow log) to one side of tile `k`, which may hold part of the change; null without data. */
function drawNear(tiles: Tiles, k: number, step: -1 | 1): number | null {
  const draws: number[] = [];
  const from = step > 0 ? tiles.t0[k] : tiles.t1[k];
  for (let j = k; j >= 0 && j < tiles.n; j += step) {
    if (!joined(tiles, step > 0 ? j : j + 1)) break;
    const awayS = step > 0 ? tiles.t0[j] - from : from - tiles.t1[j];
    if (awayS > NEAR_S && (draws.length > 1 || awayS > NEAR_MOST_S)) break;
    if (!Number.isNaN(tiles.i[j])) draws.push(-tiles.i[j]);
  }
  if (draws.length > 1) draws.shift();
  return draws.length ? median(draws) : null;
}

/** True where the log is fast enough, at cranks at least, for no crank to be missed. */
function cranksShow(cranks: readonly RawCrank[]): boolean {
  return cranks.length > 0 && median(cranks.map((crank) => crank.rows)) >= 4;
}

/** A regulator that lets the voltage down on purpose parts one drive: no crank between the pieces, and no rest either. */
function joinLowered(
  tiles: Tiles,
  cranks: readonly RawCrank[],
  floor: Restlessness,
  spans: readonly FedSpan[],
): FedSpan[] {
  const out: FedSpan[] = [];
  for (const span of spans) {
    const before = out[out.length - 1];
    if (before?.kind === 'driving' && isLowered(tiles, cranks, floor, before, span)) {
      out[out.length - 1] = { ...before, last: span.last };
    } else out.push(span);
  }
  return out;
}

function isLowered(tiles: Tiles, cranks: readonly RawCrank[], floor: Restlessness, a: Span, b: Span): boolean {
  const pauseS = tiles.t0[b.first] - tiles.t1[a.last];
  if (pauseS > LOWERED_S || b.first - a.last < 2 || crankNear(cranks, tiles.t0[b.first])) return false;
  const running = restlessness(tiles, a);
  const between = restlessness(tiles, { first: a.last + 1, last: b.first - 1 });
  if (!isRestless(running, floor) || !isRestless(between, floor)) return false;
  return Number.isNaN(running.amps) ? between.volts > 0.15 * running.volts : between.amps > 0.15 * running.amps;
}
