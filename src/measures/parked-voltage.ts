/** How low the voltage of a parked vehicle went: what deep-discharge and freeze-risk ask. */
import type { Analysis, PeriodKind } from '../analysis/model.ts';
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { isLithium, perTwelveVolt } from '../battery/chemistry.ts';
import type { Session } from '../manifest/session.ts';
import type { CheckLimit, DefaultLimit } from './limit.ts';
import { measure } from './measure.ts';
import { mostBy } from './spans.ts';
import { belowS, type Sustained, sustained } from './sustained.ts';

/** Stand, without key-on, where glow plugs and cranks pull the voltage down for a moment. */
export const PARKED: readonly PeriodKind[] = ['settling', 'asleep', 'awake'];

export const LOWEST_VOLTAGE: DefaultLimit = {
  key: 'lowestVoltage',
  value: 10.5,
  unit: 'V',
  source: 'US Army TM 9-6140-200-14, §2-4 (seen)',
  applies: '12 V lead-acid, parked; 10.0 V for lithium; in proportion for 6 and 24 V',
};

/** Discharge cut-off of 12 V lithium iron phosphate batteries. Source: two battery makers' data sheets (seen). */
const LFP_LOWEST_V = 10;

/** Below this voltage a battery is drained deeper than it bears. */
export function lowestVoltage({ battery, vehicle }: Session): CheckLimit {
  const lfp = isLithium(battery.chemistry);
  return {
    value: perTwelveVolt(vehicle.systemV) * (lfp ? LFP_LOWEST_V : LOWEST_VOLTAGE.value),
    unit: 'V',
    source: lfp
      ? 'two battery makers’ data sheets for lithium iron phosphate, seen: cut-off at 10 V'
      : LOWEST_VOLTAGE.source,
  };
}

/** The lowest voltage that one stand kept for a minute: what adds up to it over weeks of short dips is no low battery. */
export const lowestParked = measure((analysis, session): Sustained | null => {
  const { tiles } = analysis;
  const lows = parkedByStand(analysis, session).flatMap((stand) => sustained(tiles, tiles.v, stand, 'lowest') ?? []);
  return mostBy(lows, ({ value }) => -value) ?? null;
});

/** Time that a parked battery spends below a level, V; `resting`: asleep, where a current tells that; s. */
export function parkedBelowS(
  analysis: Analysis,
  session: Session,
  { level, resting = false }: { level: number; resting?: boolean },
): number {
  const { tiles } = analysis;
  const chosen = resting && analysis.has.current ? tilesIn(analysis, ['asleep']) : parkedTiles(analysis, session);
  return belowS(tiles, tiles.v, chosen, level);
}

/** The longest time that one stand spends below a level, V; s. */
export function standBelowS(analysis: Analysis, session: Session, level: number): number {
  const { tiles } = analysis;
  return parkedByStand(analysis, session).reduce(
    (most, stand) => Math.max(most, belowS(tiles, tiles.v, stand, level)),
    0,
  );
}

/** The coldest that a parked battery was for a minute, °C; null where no temperature was read for as long. */
export const coldestParked = measure((analysis, session): Sustained | null =>
  sustained(analysis.tiles, analysis.tiles.temp, parkedTiles(analysis, session), 'lowest'),
);

/** Also those without current: their voltage holds. */
export const parkedTiles = measure((analysis): readonly number[] => {
  const { v } = analysis.tiles;
  return tilesIn(analysis, [...PARKED, 'no-data']).filter((k) => !Number.isNaN(v[k]));
});

/** Tiles of `parkedTiles`, stand by stand. */
const parkedByStand = measure((analysis, session): readonly (readonly number[])[] => {
  const { tiles, stands } = analysis;
  const byStand: number[][] = stands.map(() => []);
  let at = 0;
  for (const k of parkedTiles(analysis, session)) {
    while (at < stands.length && stands[at].end <= tiles.t0[k]) at++;
    if (at < stands.length && stands[at].start <= tiles.t0[k]) byStand[at].push(k);
  }
  return byStand;
});
