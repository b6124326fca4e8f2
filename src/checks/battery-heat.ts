/**
 * Did the battery get hotter than is safe to charge? The highest temperature that lasted a minute while something charged
 * it. The limit is the electrolyte's, and the sensor may sit in a hot engine bay: so hot, or perhaps so hot, is worth watching;
 * it is a fault where the charging voltage was too high in the same minutes, which heats a battery from within.
 */
import { chargingWindowV, HEAT_LIMIT_C } from '../battery/charging.ts';
import { decide, expand } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { heat, overchargedS } from '../measures/heat.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { limitOf } from '../measures/limit.ts';
import { temperatureUncertainty } from '../measures/sensor.ts';
import { SUSTAINED_S, type Sustained } from '../measures/sustained.ts';
import type { Check } from './check.ts';

const BATTERY_HEAT: DefaultLimit = {
  key: 'batteryHeat',
  value: HEAT_LIMIT_C,
  unit: '°C',
  source: 'NAVEDTRA 14113 (seen)',
  applies: 'electrolyte, while charging',
};

type Facts = {
  readonly hotT: number;
  readonly chargingC: number | null;
  readonly charged: boolean;
  readonly accuracyStated: boolean;
};

export const check: Check<Facts> = {
  id: 'battery-heat',
  about: 'vehicle',
  side: 'max',
  causes: ['charging-high'],
  needs: ['temperature'],
  limits: [BATTERY_HEAT],
  reasons: ['not-charged'],
  cautions: ['general', 'hydrogen', 'acid', 'moving-parts'],
  answer(analysis, session) {
    const limit = limitOf(BATTERY_HEAT, session);
    const seen = heat(analysis, session);
    const charging = judge(seen.charging, session, limit.value);
    const anytime = judge(seen.anytime, session, limit.value);
    // Where it was never charged for a minute, "never that hot at all" still answers the question.
    const shown = charging ?? (anytime?.decision === 'within' ? anytime : null);
    if (!shown || !anytime) return { status: 'undecided', limit, reason: 'not-charged' };
    const { usualV } = chargingWindowV({
      chemistry: session.battery.chemistry,
      systemV: session.vehicle.systemV,
      temperatureC: charging ? limit.value - charging.U : null,
    });
    // So hot for a minute while the charging voltage was above the usual windows.
    const overcharged =
      charging?.decision === 'beyond' &&
      usualV !== null &&
      overchargedS(analysis, limit.value - charging.U, usualV) >= SUSTAINED_S;
    const hotter = charging?.decision === 'within' && anytime.decision === 'beyond' ? anytime : shown;
    const base = {
      measured: { value: hotter.hot.value, unit: '°C', uncertainty: hotter.U, coverage: hotter.k },
      limit,
      facts: {
        hotT: hotter.hot.from,
        chargingC: charging?.hot.value ?? null,
        charged: charging !== null,
        accuracyStated: session.log.columns.temperature?.accuracy !== undefined,
      },
      evidence: [{ chart: 'session-overview', from: hotter.hot.from, to: hotter.hot.to }],
    } as const;
    if (overcharged) return { ...base, status: 'fault' };
    if (charging?.decision === 'beyond') return { ...base, status: 'watch', variant: 'charging' };
    // Where a wrong "no" could hurt somebody, doubt is a warning.
    if (charging?.decision === 'undecided') return { ...base, status: 'watch', variant: 'in-doubt' };
    return { ...base, status: anytime.decision === 'beyond' ? 'watch' : 'clear' };
  },
};

function judge(hot: Sustained | null, session: Session, limitC: number) {
  if (!hot) return null;
  const { u, k } = temperatureUncertainty(hot.value, session);
  const U = expand(u, k);
  return { hot, U, k, decision: decide({ value: hot.value, U, limit: limitC, side: 'max' }) };
}
