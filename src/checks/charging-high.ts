/**
 * Does charging exceed its window? Sustained is what harms: half of a drive beyond what any published window allows is a
 * fault; half of one above the usual windows, or in doubt whether it is beyond all of them, is worth watching. Vehicles that
 * recover braking energy raise the voltage for moments; those count only where they go well beyond all windows.
 */

import { perTwelveVolt } from '../battery/chemistry.ts';
import { decide } from '../battery/uncertainty.ts';
import type { Session } from '../manifest/session.ts';
import { type JudgedDrive, judgedDrives, SHORTEST_DRIVE_S } from '../measures/drives.ts';
import { type CheckLimit, type DefaultLimit, limitOf } from '../measures/limit.ts';
import { accuracyStated, expandedU } from '../measures/sensor.ts';
import { mostBy } from '../measures/spans.ts';
import type { Check } from './check.ts';

const CHARGING_MAX: DefaultLimit = {
  key: 'chargingVoltageMax',
  value: 15.3,
  unit: 'V',
  source:
    'the widest of vehicle makers’ published settings by temperature (three tables seen, and 15.3 V commanded, second-hand)',
  applies:
    '12 V lead-acid at 20 °C; 15.4 V at −20 °C, 15.0 V at 60 °C; above the usual windows (15.0 V at 20 °C, 14.4 V for gel) it is watched; 15.1 V for lfp; twice that for 24 V',
};

/** By how much a vehicle may go beyond all windows for moments, V for each 12 V. Common practice, no source. */
const BRIEFLY_V = 0.3;

type Facts = {
  readonly shortestS?: number;
  readonly drives: number;
  readonly highDrives: number;
  readonly worstT: number;
  readonly worstS: number;
  readonly highV: number;
  readonly mostV: number;
  readonly temperatureC: number | null;
  readonly temperatureSeen: boolean;
  readonly hasAlternator: boolean;
  readonly accuracyStated: boolean;
};

export const check: Check<Facts> = {
  id: 'charging-high',
  about: 'vehicle',
  side: 'max',
  needs: [],
  restsOn: ['driving'],
  limits: [CHARGING_MAX],
  reasons: ['no-drive', 'drives-too-short', 'no-window'],
  cautions: ['general', 'hydrogen', 'acid', 'exhaust', 'moving-parts'],
  answer(analysis, session) {
    if (analysis.drives.length === 0) return { status: 'undecided', reason: 'no-drive' };
    const longEnough = judgedDrives(analysis, session);
    const drives = longEnough.flatMap((judged) => judge(judged, session) ?? []);
    if (drives.length === 0 && longEnough.length > 0) return { status: 'undecided', reason: 'no-window' };
    const worst = mostBy(drives, (one) => RANK[one.verdict] * 1000 + one.middle - one.limit.value);
    if (!worst) return { status: 'undecided', facts: { shortestS: SHORTEST_DRIVE_S }, reason: 'drives-too-short' };

    const peaky = mostBy(
      drives.filter((one) => one.jumps),
      (one) => one.high - one.mostV,
    );
    const shown = worst.verdict === 'within' ? (peaky ?? worst) : worst;
    const base = {
      measured: { value: worst.middle, unit: 'V', uncertainty: worst.U, coverage: worst.k },
      limit: worst.limit,
      facts: {
        drives: drives.length,
        highDrives: drives.filter((one) => one.verdict === worst.verdict).length,
        worstT: shown.start,
        worstS: shown.seconds,
        highV: shown.high,
        mostV: worst.mostV,
        temperatureC: shown.temperatureC,
        temperatureSeen: shown.temperatureC !== null,
        hasAlternator: session.vehicle.powertrain === 'combustion',
        accuracyStated: accuracyStated('voltage', session),
      },
      evidence: [{ chart: 'charging', from: shown.start, to: shown.start + shown.seconds }],
    } as const;
    if (worst.verdict === 'beyond') return { ...base, status: 'fault' };
    if (worst.verdict === 'in-doubt') return { ...base, status: 'watch', variant: 'in-doubt' };
    if (worst.verdict === 'above-usual') return { ...base, status: 'watch', variant: 'above-usual' };
    return { ...base, status: peaky ? 'watch' : 'clear' };
  },
};

type Verdict = 'within' | 'above-usual' | 'in-doubt' | 'beyond';
const RANK: Readonly<Record<Verdict, number>> = { within: 0, 'above-usual': 1, 'in-doubt': 2, beyond: 3 };

/** Null where nothing is published for the chemistry and the session sets no limit. */
function judge({ drive, seconds, high, middle, window }: JudgedDrive, session: Session) {
  const U = expandedU(middle);
  const set = session.limits.chargingVoltageMax ? limitOf(CHARGING_MAX, session) : null;
  const mostV = set?.value ?? window.mostV;
  if (mostV === null || window.usualV === null) return null;
  const most: CheckLimit = set ?? { value: mostV, unit: 'V', source: window.mostSource };
  const usual: CheckLimit = set ?? { value: window.usualV, unit: 'V', source: window.usualSource };
  const asked = { value: middle.value, U, side: 'max' } as const;
  const sustained = decide({ ...asked, limit: mostV });
  const verdict: Verdict =
    sustained === 'beyond'
      ? 'beyond'
      : sustained === 'undecided'
        ? 'in-doubt'
        : decide({ ...asked, limit: usual.value }) === 'beyond'
          ? 'above-usual'
          : 'within';
  const briefV = mostV + BRIEFLY_V * perTwelveVolt(session.vehicle.systemV);
  return {
    verdict,
    limit: verdict === 'beyond' || verdict === 'in-doubt' ? most : usual,
    mostV,
    U,
    k: middle.k,
    jumps: decide({ value: high.value, U, limit: briefV, side: 'max' }) === 'beyond',
    middle: middle.value,
    high: high.value,
    seconds,
    start: drive.start,
    temperatureC: drive.temperatureC,
  };
}
