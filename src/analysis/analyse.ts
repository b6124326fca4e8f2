/** The analysis, once over the samples as they stream by, then once over the tiles that stay. */
import { perTwelveVolt } from '../battery/chemistry.ts';
import { median, whiteSd } from '../battery/statistics.ts';
import type { LogAccount, SampleBlock } from '../log/block.ts';
import type { Session } from '../manifest/session.ts';
import { approachAh } from './approach.ts';
import { createCrankFinder } from './cranks/crank-finder.ts';
import type { HeavyLoad, RawCrank } from './cranks/raw-crank.ts';
import { partStarts } from './cranks/starter.ts';
import { findDrives } from './drives.ts';
import type { Analysis, Crank, Drive, Period, PeriodKind, Span } from './model.ts';
import { describeStand } from './sleep/describe-stand.ts';
import { findSleep } from './sleep/sleep.ts';
import { createUnseen } from './sleep/unseen.ts';
import { findWakes } from './sleep/wakes.ts';
import { findDirection } from './states/direction.ts';
import { findEvents } from './states/events.ts';
import { type Label, labelTiles } from './states/label.ts';
import { createEvidence } from './states/period-evidence.ts';
import { findPeriods, kindsOf } from './states/periods.ts';
import { findStands } from './states/stands.ts';
import { labelSun } from './states/sun.ts';
import { flipTiles, settleBridges } from './tiles/finish-tiles.ts';
import { createTileBuilder } from './tiles/tile-builder.ts';
import { joined, type Tiles } from './tiles/tiles.ts';
import { tilesWithinAll, withEdges } from './tiles/tiles-in.ts';
import { type CountedCharge, countedU, startsBetweenRows, totalsOf } from './totals.ts';
import { measuredOhm, measuredV, type Sensors } from './uncertain.ts';

export interface Analyser {
  push(block: SampleBlock): void;
  /** To be called once, after the last block. */
  finish(log: LogAccount): Analysis;
}

export function createAnalyser(session: Session): Analyser {
  const builder = createTileBuilder(session.log.channels.length);
  const finder = createCrankFinder(session);
  return {
    push(block) {
      builder.push(block);
      finder.push(block);
    },
    finish(log) {
      const { store, end, steps, resolution } = builder.finish();
      settleBridges(store, log.gaps);
      return analyseTiles({
        session,
        log,
        tiles: store,
        end,
        ...finder.finish(),
        resolution,
        medianStepS: steps.median(),
      });
    },
  };
}

interface Gathered {
  session: Session;
  log: LogAccount;
  tiles: Tiles;
  end: number;
  cranks: RawCrank[];
  loads: HeavyLoad[];
  resolution: Analysis['resolution'];
  medianStepS: number;
}

const ALWAYS: Span = { start: Number.NEGATIVE_INFINITY, end: Number.POSITIVE_INFINITY };

function analyseTiles({ session, log, tiles, end: lastT, resolution, medianStepS, ...found }: Gathered): Analysis {
  const { systemV } = session.vehicle;
  const sensors: Sensors = { session, resolution };
  const { cranks: raw, loads } = partStarts(found.cranks, found.loads, perTwelveVolt(systemV));
  const direction = findDirection(tiles, raw, systemV);
  const wrongWay = direction.flipped ? ALWAYS : direction.turned;
  if (wrongWay) flipTiles(tiles, wrongWay);

  const hasCurrent = tiles.i.subarray(0, tiles.n).some((i) => !Number.isNaN(i));
  const labelled = labelTiles(tiles, raw, session, hasCurrent);
  const { labels } = labelled;
  const stands = findStands(tiles, labels);
  const sunny = labelSun(tiles, labels, stands);
  const sleeps = findSleep(tiles, labels, stands);
  const kinds = kindsOf(tiles, labels, stands, sleeps, hasCurrent);
  const noiseA = noiseOf(tiles, kinds);
  const counted = { tiles, sensors, noiseA };
  const view = { tiles, noiseA, labels, kinds, sensors, hasCurrent, unseen: createUnseen(tiles, resolution.i) };
  const wakeView = { tiles, labels, kinds, channels: session.log.channels, stepA: resolution.i };
  const wakesOf = stands.map((stand, at) => findWakes(wakeView, stand, sleeps[at].levelA, at));
  const parked = stands.map((stand, at) => describeStand(view, stand, sleeps[at], wakesOf[at]));
  const wakes = wakesOf.flat();
  const stepsS = {
    driving: stepIn(tiles, kinds, ['driving']),
    parked: stepIn(tiles, kinds, ['asleep', 'settling', 'awake']),
    awake: stepIn(tiles, kinds, ['awake']),
  };
  const drives = findDrives(tiles, kinds, sensors);
  const start = tiles.n ? tiles.t0[0] : 0;
  const end = tiles.n ? lastT : 0;
  const periods = findPeriods(tiles, kinds, createEvidence(tiles, labelled, sunny), end);
  const coveredS = periods.reduce((sum, p) => sum + (p.kind === 'no-data' ? 0 : p.end - p.start), 0);
  // A crank lasts to the step after its last row, which a log that ends with it does not have.
  const whole = raw.map((crank) => ({ ...crank, seconds: Math.min(crank.seconds, end - crank.at) }));
  const cranks = whole.map((crank, at) =>
    finishCrank(
      crank,
      raw[at + 1]?.at,
      wrongWay !== null && wrongWay.start <= crank.at && crank.at < wrongWay.end,
      drives,
      sensors,
    ),
  );
  return {
    log,
    start,
    end,
    coveredS,
    missingS: end - start - coveredS,
    medianStepS,
    stepsS,
    has: {
      current: hasCurrent,
      temperature: tiles.temp.subarray(0, tiles.n).some((x) => !Number.isNaN(x)),
      channels: tiles.chMax.map((column) => column.subarray(0, tiles.n).some((x) => !Number.isNaN(x))),
    },
    resolution,
    noiseA,
    temperature: temperatureOf(tiles),
    tiles,
    periods,
    stands: parked.map((stand) => ({ ...stand, ...chargeIn(periods, stand, counted) })),
    topUps: topUpsOf(tiles, labels),
    wakes,
    cranks,
    events: findEvents(tiles, labels, raw, cranks, loads, systemV),
    drives,
    totals: totalsOf(counted, periods, parked, startsBetweenRows({ drives, cranks, start }, session, { start, end })),
    direction,
  };
}

/** The charge of a stand is that of its periods. */
function chargeIn(periods: readonly Period[], stand: Span, counted: CountedCharge) {
  const { start, end } = stand;
  const inside = periods.filter(
    (p) => p.start >= start && p.end <= end && (p.kind === 'settling' || p.kind === 'asleep' || p.kind === 'awake'),
  );
  const chargeOutAh = inside.reduce((sum, p) => sum + p.chargeOutAh, 0);
  const chosen = tilesWithinAll(counted.tiles, inside);
  return {
    chargeInAh: inside.reduce((sum, p) => sum + p.chargeInAh, 0),
    chargeOutAh,
    chargeOutU: countedU(counted, chosen, chargeOutAh, [approachAh(periods, stand)], withEdges(counted.tiles, chosen)),
  };
}

function topUpsOf(tiles: Tiles, labels: readonly Label[]): Span[] {
  const spans: Span[] = [];
  for (let k = 0; k < tiles.n; k++) {
    if (labels[k] !== 'top-up') continue;
    const first = k;
    while (k + 1 < tiles.n && labels[k + 1] === 'top-up' && joined(tiles, k + 1)) k++;
    spans.push({ start: tiles.t0[first], end: tiles.t1[k] });
  }
  return spans;
}

function finishCrank(
  crank: RawCrank,
  nextAt: number | undefined,
  flipped: boolean,
  drives: readonly Drive[],
  sensors: Sensors,
): Crank {
  const { plateau, resistance, wave } = crank;
  const end = crank.at + crank.seconds;
  return {
    at: crank.at,
    seconds: crank.seconds,
    voltsBefore: crank.voltsBefore,
    voltsMin: crank.voltsMin,
    voltsCranking: plateau && measuredV(sensors, plateau.volts, plateau.scatterU),
    ampsPeak: crank.ampsPeak,
    resistanceOhm: resistance && measuredOhm(sensors, resistance),
    temperatureC: crank.temperatureC,
    // What a later attempt started, this one did not.
    started: drives.some(
      (drive) => drive.end > end && drive.start - end < 30 && (nextAt === undefined || drive.start < nextAt),
    ),
    wave: flipped ? { ...wave, i: wave.i.map((i) => -i) } : wave,
  };
}

/** The sensor's own, as it is seen asleep. */
function noiseOf(tiles: Tiles, kinds: readonly PeriodKind[]): number | null {
  const rough = new Float64Array(tiles.n);
  let n = 0;
  for (let k = 0; k < tiles.n; k++)
    if (kinds[k] === 'asleep' && !Number.isNaN(tiles.iRough[k])) rough[n++] = tiles.iRough[k];
  return n > 0 ? whiteSd(median(rough.subarray(0, n))) : null;
}

function stepIn(tiles: Tiles, kinds: readonly PeriodKind[], among: readonly PeriodKind[]): number | null {
  let seconds = 0;
  let rows = 0;
  for (let k = 0; k < tiles.n; k++) {
    if (!among.includes(kinds[k])) continue;
    seconds += tiles.t1[k] - tiles.t0[k];
    rows += tiles.rows[k];
  }
  return rows > 0 ? seconds / rows : null;
}

function temperatureOf(tiles: Tiles): Analysis['temperature'] {
  let sum = 0;
  let seconds = 0;
  let min = Number.POSITIVE_INFINITY;
  let max = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < tiles.n; k++) {
    const c = tiles.temp[k];
    if (Number.isNaN(c)) continue;
    const w = tiles.t1[k] - tiles.t0[k];
    sum += c * w;
    seconds += w;
    min = Math.min(min, c);
    max = Math.max(max, c);
  }
  return seconds > 0 ? { min, max, mean: sum / seconds } : null;
}
