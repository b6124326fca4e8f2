/**
 * Could the electrolyte freeze? For each stand its coldest lasting temperature against the freezing point at its charge, from
 * its own rest or the nearest one. The charge's uncertainty is that of the freezing point too. Where it never got as cold as an empty
 * battery freezes at, no charge is needed; where it did not freeze but the charge is so low that an ordinary winter's night
 * would do it, that is worth watching. Where a wrong "no" could hurt somebody, doubt is a warning.
 */
import type { Analysis } from '../analysis/model.ts';
import { isLithium } from '../battery/chemistry.ts';
import { freezingPointC } from '../battery/freezing.ts';
import { decide, expand } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { batteryState } from '../measures/battery-state.ts';
import { freezeRisks } from '../measures/freeze-risks.ts';
import type { DefaultLimit } from '../measures/limit.ts';
import { coldestParked, lowestVoltage, standBelowS } from '../measures/parked-voltage.ts';
import { presentBattery } from '../measures/present-battery.ts';
import { restedCharges } from '../measures/rested-charge.ts';
import { temperatureUncertainty } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import { SUSTAINED_S, type Sustained } from '../measures/sustained.ts';
import type { Check } from './check.ts';

const SOURCE =
  'US Army OD 1002, p. 54; TM 5-3820-256-24-4, Table 2; drained: a vehicle maker’s storage chart by density; all seen';
const FREEZING: DefaultLimit = {
  key: 'freezingPoint',
  value: freezingPointC(0.5).high,
  unit: '°C',
  source: SOURCE,
  applies: 'acid at 50 % charge; −3 °C drained, about −9 °C empty, −15 °C at 25 %, −37 °C at 75 %',
};

/** A night that winter brings in many places, and the season in which to say so, °C. Common practice, no source. */
const WINTER_NIGHT_C = -20;
const SEASON_C = 10;

type NeverCold = {
  readonly coldT: number;
  readonly coldC: number;
};

type Cold = {
  readonly coldT: number;
  readonly coldC: number;
  readonly charge: number;
  readonly chargeU: number;
  readonly chargeT: number;
  readonly warmestFreezingC: number;
  /** One of its cells has most likely failed: then no charge is advised. */
  readonly cell: boolean;
};

type Facts = NeverCold | Cold;

export const check: Check<Facts> = {
  id: 'freeze-risk',
  about: 'vehicle',
  danger: ({ status, variant }) => status === 'fault' || variant === 'in-doubt',
  side: 'min',
  needs: ['temperature'],
  limits: [FREEZING],
  reasons: ['not-lead', 'not-parked', 'charge-unknown'],
  cautions: ['general', 'frozen', 'acid', 'lifting'],
  answer(all, session) {
    const analysis = presentBattery(all, session);
    if (isLithium(session.battery.chemistry)) return { status: 'undecided', reason: 'not-lead' };
    const coldest = coldestParked(analysis, session);
    if (!coldest) return { status: 'undecided', reason: 'not-parked' };

    // A battery drained below the tables' last row is on its way to water.
    const limitV = lowestVoltage(session).value;
    const drained = standBelowS(analysis, session, limitV) >= SUSTAINED_S;
    const emptyC = drained ? 0 : freezingPointC(0).high;
    const facts = { coldT: coldest.from, coldC: coldest.value };
    const { u, k } = temperatureUncertainty(coldest.value, session);
    const U = expand(u, k);
    const winter = winterRisk(analysis, session, coldest);
    if (coldest.value - U > emptyC && !winter) {
      return {
        status: 'clear',
        variant: 'never-cold',
        measured: { value: coldest.value, unit: '°C', uncertainty: U, coverage: k },
        limit: { value: emptyC, unit: '°C', source: SOURCE },
        facts,
        evidence: [{ chart: 'session-overview', from: coldest.from, to: coldest.to }],
      };
    }
    const risks = freezeRisks(analysis, session);
    const worst = mostBy(risks, (risk) => risk.freezesC + risk.U - risk.cold.value);
    if (!worst) return { status: 'undecided', facts, reason: 'charge-unknown' };

    const { cold, charge, freezesC } = worst;
    const base = {
      measured: { value: cold.value, unit: '°C', uncertainty: worst.U },
      limit: { value: freezesC, unit: '°C', source: SOURCE },
      facts: {
        coldT: cold.from,
        coldC: cold.value,
        charge: charge.value,
        chargeU: charge.U,
        chargeT: charge.rest.at,
        warmestFreezingC: worst.warmestC,
        cell: batteryState(all, session).state === 'cell',
      },
      evidence: [{ chart: 'freeze-risk', from: cold.from, to: cold.to }],
    } as const;
    const decision = decide({ value: cold.value, U: worst.U, limit: freezesC, side: 'min' });
    if (decision === 'beyond') return { ...base, status: 'fault' };
    if (decision === 'undecided') return { ...base, status: 'watch', variant: 'in-doubt' };
    return { ...base, status: winter ? 'watch' : 'clear' };
  },
};

/** True where the latest charge is surely so low that a winter's night would freeze it, and winter is not far. */
function winterRisk(analysis: Analysis, session: Session, coldest: Sustained): boolean {
  const latest = restedCharges(analysis, session).charges.at(-1);
  if (!latest || coldest.value > SEASON_C) return false;
  return freezingPointC(Math.min(1, latest.value + latest.U)).low > WINTER_NIGHT_C;
}
