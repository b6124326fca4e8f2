/**
 * Was the battery taken so low that it may be damaged? The lowest voltage that a parked vehicle kept for a minute of one
 * stand, cranks and glow plugs left out. Some minutes below the limit are worth watching, longer is a fault; so low asleep that any
 * table calls it empty is worth watching too.
 */
import { tilesIn } from '../analysis/tiles/tiles-in.ts';
import { restVoltageV } from '../battery/rest-voltage.ts';
import { decide } from '../battery/uncertainty.ts';
import { LOWEST_VOLTAGE, lowestVoltage, parkedTiles, tilesByStand } from '../measures/parked-voltage.ts';
import { accuracyStated, levelU } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import { belowS, sustained } from '../measures/sustained.ts';
import type { Check } from './check.ts';

/** Below the limit for this long, together, a battery is harmed. Common practice, no source. */
const HARMFUL_S = 600;

type Facts = {
  readonly lowestT: number;
  readonly lowS: number;
  readonly emptyV: number;
  readonly emptyS: number;
  readonly twoBatteries: boolean;
  readonly accuracyStated: boolean;
};

export const check: Check<Facts> = {
  id: 'deep-discharge',
  about: 'vehicle',
  side: 'min',
  causes: ['charging-low', 'parked-draw', 'wake-ups', 'held-awake', 'sleep-time', 'charge-balance'],
  needs: [],
  limits: [LOWEST_VOLTAGE],
  reasons: ['not-parked', 'limit-within-uncertainty'],
  cautions: ['general', 'hydrogen', 'acid', 'frozen'],
  answer(analysis, session) {
    const limit = lowestVoltage(session);
    const { tiles } = analysis;
    const parked = parkedTiles(analysis);
    const lowest = mostBy(
      tilesByStand(analysis, parked).flatMap((stand) => sustained(tiles, tiles.v, stand, 'lowest') ?? []),
      ({ value }) => -value,
    );
    if (!lowest) return { status: 'undecided', limit, reason: 'not-parked' };

    const value = lowest.value;
    const U = levelU(value, 'voltage', analysis, session);
    const lowS = belowS(tiles, tiles.v, parked, limit.value);
    const emptyV = restVoltageV(session.battery.chemistry, session.vehicle.systemV, 0);
    const resting = analysis.has.current ? tilesIn(analysis, ['asleep']) : parked;
    const emptyS = belowS(tiles, tiles.v, resting, emptyV - U);
    const base = {
      measured: { value, unit: 'V', uncertainty: U },
      limit,
      facts: {
        lowestT: lowest.from,
        lowS,
        emptyV,
        emptyS,
        twoBatteries: session.vehicle.systemV === 24,
        accuracyStated: accuracyStated('voltage', session),
      },
      evidence: [{ chart: 'deep-discharge', from: lowest.from, to: lowest.to }],
    } as const;
    const decision = decide({ value, U, limit: limit.value, side: 'min' });
    if (decision === 'beyond') return { ...base, status: lowS >= HARMFUL_S ? 'fault' : 'watch' };
    if (decision === 'undecided') return { ...base, status: 'undecided', reason: 'limit-within-uncertainty' };
    return emptyS >= HARMFUL_S ? { ...base, status: 'watch', variant: 'empty' } : { ...base, status: 'clear' };
  },
};
