/**
 * Finds cranks at full rate while the samples stream by. A crank is a short, deep draw with a dip of voltage, from an
 * engine that is not running; what it did next tells a start from a failed attempt. Without current the dip alone
 * must be deeper. What begins one and what goes on with it says `dips.ts`; what follows what, `deep-event.ts`.
 */
import { perTwelveVolt } from '../../battery/chemistry.ts';
import { fedFromV } from '../../battery/fed-voltage.ts';
import type { SampleBlock } from '../../log/block.ts';
import type { Session } from '../../manifest/session.ts';
import { isSupplyLost } from '../states/supply.ts';
import { measureCrank, measureLoad } from './crank-measure.ts';
import { createDeepEvents, type DeepEvent, SETTLED_S } from './deep-event.ts';
import { DEEP_A, dipsOf } from './dips.ts';
import { createLiftWatch, type LiftWatch } from './lift.ts';
import type { HeavyLoad, RawCrank, Row } from './raw-crank.ts';
import { createUsual } from './usual.ts';

/** Cranks whose waveform is kept. */
const WAVES = 400;

type Vehicle = Pick<Session, 'vehicle' | 'battery' | 'log'>;

interface Found {
  readonly cranks: RawCrank[];
  readonly loads: HeavyLoad[];
}

export interface CrankFinder {
  push(block: SampleBlock): void;
  /** Starts, and what else drew much, in order; whether an engine ran meanwhile is not known yet. */
  finish(): Found;
}

export function createCrankFinder(session: Vehicle): CrankFinder {
  const { systemV, powertrain } = session.vehicle;
  const lifts = createLiftWatch(perTwelveVolt(systemV));
  const { found, note } = createFound(session, lifts);
  if (powertrain === 'electric') return { push: () => {}, finish: () => found };

  const dips = dipsOf(session);
  const usual = createUsual();
  const events = createDeepEvents(dips, usual, note);
  let event: DeepEvent | null = null;
  /** When the logger last lost its supply, s. */
  let lostT = Number.NaN;

  /** Takes the rows from `from` on that draw little, as nearly all do; gives the first that wants a closer look. */
  function passIdle(block: SampleBlock, from: number): number {
    const { n, v, i } = block;
    const { deepA } = dips;
    const idleV = dips.idleFromV(usual.reference);
    let to = from;
    while (to < n && Math.abs(i[to]) < deepA && v[to] > idleV) to++;
    if (to > from) usual.passRun(block, from, to);
    return to;
  }

  /** A row at a time: where something is under way, or may begin. */
  function take(t: number, read: number, i: number, temp: number): void {
    // A logger that loses its own supply dips deeper than any starter.
    const lost = Number.isNaN(i) && isSupplyLost(read, systemV);
    const v = lost ? Number.NaN : read;
    if (lost) {
      lostT = t;
      lifts.forget();
      usual.forget();
      if (event && t - event.endedAt < SETTLED_S) event.isLost = true;
    }
    if (!Number.isNaN(i)) usual.noteCurrent();
    const row = (): Row => [t, v, i, temp];
    if (!event && dips.begins(v, i, usual)) event = events.begin(row(), t - lostT < SETTLED_S);
    if (event) event = events.goOn(event, row(), lostT);
    usual.take(t, v, i, temp, event?.phase);
    if (!usual.hasCurrent && !Number.isNaN(v)) lifts.take(t, v, event === null);
  }

  return {
    push(block) {
      for (let k = 0; k < block.n; k++) {
        if (!event) k = passIdle(block, k);
        if (k < block.n) take(block.t[k], block.v[k], dips.known(block.i[k]), block.temp[k]);
      }
    },
    finish() {
      if (event && event.phase !== 'too-long') note(event);
      return found;
    },
  };
}

/** Where a draw goes on for a minute, what turned an engine at its begin was over within this, s: nothing charges after it. */
const TURNED_S = 4;

/** What the events turn out to be: a crank, another load, or nothing. */
function createFound(
  { vehicle, battery }: Vehicle,
  lifts: LiftWatch,
): { found: Found; note: (event: DeepEvent) => void } {
  const found: Found = { cranks: [], loads: [] };
  const rules = {
    scale: perTwelveVolt(vehicle.systemV),
    chargedV: fedFromV(battery.chemistry, vehicle.systemV),
    strict: vehicle.powertrain === 'hybrid',
  };
  function note({ phase, isLost, rows, beganAt, endedAt, byVoltage }: DeepEvent): void {
    if (isLost) return;
    const wave = found.cranks.length < WAVES;
    const measured = measureCrank(rows, beganAt, endedAt, { ...rules, byVoltage, wave });
    const crank = phase === 'too-long' && !(measured && measured.seconds < TURNED_S) ? null : measured;
    const isAlone = crank !== null && crank.sign === 0 && !byVoltage;
    if (isAlone && lifts.isRunnings(crank)) return;
    if (crank) found.cranks.push(crank);
    if (isAlone) {
      lifts.started(crank);
      lifts.onLift = (lift) => {
        crank.lift = lift;
      };
    }
    const load = crank ? null : measureLoad(rows, beganAt, endedAt);
    if (load && load.meanA >= DEEP_A) found.loads.push(load);
  }
  return { found, note };
}
